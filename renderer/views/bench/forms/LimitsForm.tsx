import { useState } from 'react';
import { benchChannels, type BenchChannel } from '../../../../shared/bench/instrument.ts';
import { BenchLimits } from '../../../../shared/bench/limits.ts';
import { decisionRules, type DecisionRule } from '../../../../shared/measurement/decision-rule.ts';
import { defined } from '../../../../shared/defined.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { common } from '../../../../shared/words/common.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { unitOf } from '../../../../shared/words/bench/bench-format.ts';
import { BenchFrame } from '../BenchFrame.tsx';
import { empty, errorOf, isAnyWrong, textOf, type Typed, typedWithin, valueOf } from '../../../fields/typed.ts';
import { useBench, useBenchScreen, useMayAct, useToday } from '../use-bench.ts';
import '../bench.css';
import './forms.css';

const words = bench.limits;
const figures = ['absolute', 'relative', 'repeatability', 'linearity', 'stability', 'cross', 't90'] as const;
type Figure = (typeof figures)[number];
type Line = { channel: BenchChannel; source: string } & Record<Figure, string>;
const percent = (part: number | undefined): string => textOf(part === undefined ? undefined : Number((part * 100).toFixed(2)));
const unitFor = (figure: Figure, channel: BenchChannel): string => (figure === 'absolute' ? unitOf(channel) : figure === 't90' ? 's' : '%');

/** A card of limits: every line says where it comes from, and the rule is chosen by a person. */
export function LimitsForm({ id }: { id: string | undefined }) {
  const screen = useBenchScreen();
  const may = useMayAct();
  const today = useToday();
  const view = useBench((state) => state.view);
  const own = useBench((state) => state.lists['bench-limits'].find((doc) => doc.id === id)?.body);
  const from = own ?? (view.kind === 'limits' && view.copyOf !== undefined && 'lines' in view.copyOf ? view.copyOf : undefined);
  const [name, setName] = useState(own?.name ?? (from === undefined ? '' : bench.plan.copyName(from.name)));
  const [rule, setRule] = useState<DecisionRule | ''>(own?.decisionRule ?? '');
  const [lines, setLines] = useState<Line[]>(
    from?.lines.map((line) => ({
      channel: line.channel,
      source: line.source,
      absolute: textOf(line.errorAbsolute),
      relative: percent(line.errorRelative),
      repeatability: percent(line.repeatabilityPart),
      linearity: textOf(line.linearityPercentOfSpan),
      stability: textOf(line.stabilityPercentOfSpan),
      cross: percent(line.crossEffectPart),
      t90: textOf(line.t90S),
    })) ?? [emptyLine('o2'), emptyLine('co')],
  );
  const set = (index: number, part: Partial<Line>): void => setLines(lines.map((line, i) => (i === index ? { ...line, ...part } : line)));
  const reads = lines.map(
    (line) => Object.fromEntries(figures.map((key) => [key, typedWithin(line[key], { low: 1e-6 })])) as Record<Figure, Typed>,
  );
  const body = BenchLimits.safeParse({
    format: 1,
    name: name.trim(),
    date: today(),
    decisionRule: rule,
    lines: lines.map(({ channel, source }, i) => {
      const value = (key: Figure): number | undefined => {
        const read = reads[i]?.[key];
        return read && valueOf(read);
      };
      const part = (key: Figure): number | undefined => {
        const found = value(key);
        return found === undefined ? undefined : found / 100;
      };
      return {
        channel,
        source: source.trim(),
        ...defined({
          errorAbsolute: value('absolute'),
          errorRelative: part('relative'),
          repeatabilityPart: part('repeatability'),
          linearityPercentOfSpan: value('linearity'),
          stabilityPercentOfSpan: value('stability'),
          crossEffectPart: part('cross'),
          t90S: value('t90'),
        }),
      };
    }),
  });
  const wrong = isAnyWrong(reads.flatMap((read) => Object.values(read)));
  const back = (): void => screen.show({ kind: 'home' });
  const save = (): void => {
    if (body.success) void screen.saveDoc('bench-limits', body.data, { id }).then((saved) => saved !== undefined && back());
  };
  const free = benchChannels.filter((channel) => !lines.some((line) => line.channel === channel));
  const noSource = lines.some(({ source }) => source.trim() === '');
  return (
    <BenchFrame
      title={words.title}
      about={from?.name}
      back={back}
      says={name.trim() === '' ? `${words.name}?` : rule === '' ? bench.noRule : noSource ? words.sourceNeeded : bench.ruleSentences[rule]}
      main={{ text: common.save, run: save, blocked: !may || wrong || !body.success }}
      others={
        id !== undefined && (
          <button type="button" className="button" disabled={!may} onClick={() => void screen.removeDoc('bench-limits', id).then(back)}>
            {bench.home.remove}
          </button>
        )
      }
    >
      <div className="form-row">
        <Field label={words.name} value={name} change={setName} numeric={false} width={380} first />
        <Choice
          label={words.rule}
          value={rule}
          change={setRule}
          width={560}
          options={[
            { value: '' as const, text: benchSetUp.chooseLimits },
            ...decisionRules.map((value) => ({ value, text: bench.rules[value] })),
          ]}
        />
      </div>
      {lines.map((line, index) => (
        <fieldset key={line.channel} className="bench-limit">
          <legend>
            <b>
              {bench.channels[line.channel].replace(/2$/, '')}
              {line.channel.endsWith('2') && <sub>2</sub>}
            </b>
          </legend>
          <div className="form-row">
            {figures.map((key) => (
              <Field
                key={key}
                label={words[key]}
                value={line[key]}
                change={(text) => set(index, { [key]: text })}
                unit={unitFor(key, line.channel)}
                width={166}
                error={errorOf(reads[index]?.[key] ?? empty)}
              />
            ))}
            <Field
              label={words.source}
              value={line.source}
              change={(source) => set(index, { source })}
              numeric={false}
              width={640}
              hint={words.sourceHint}
            />
            <button
              type="button"
              className="button bench-under"
              disabled={lines.length === 1}
              onClick={() => setLines(lines.filter((_, i) => i !== index))}
              aria-label={`${bench.home.remove} ${bench.channels[line.channel]}`}
            >
              {bench.home.remove}
            </button>
          </div>
        </fieldset>
      ))}
      {free[0] !== undefined && (
        <div>
          <button type="button" className="button" onClick={() => free[0] !== undefined && setLines([...lines, emptyLine(free[0])])}>
            {words.addLine}
          </button>
        </div>
      )}
    </BenchFrame>
  );
}

const emptyLine = (channel: BenchChannel): Line => ({
  channel,
  source: '',
  absolute: '',
  relative: '',
  repeatability: '',
  linearity: '',
  stability: '',
  cross: '',
  t90: '',
});
