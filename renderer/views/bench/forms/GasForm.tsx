import { useState } from 'react';
import { ReferenceGas, benchChannels, gasFlaws, type BenchChannel } from '../../../../shared/bench/instrument.ts';
import { defined } from '../../../../shared/defined.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { common } from '../../../../shared/words/common.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { BenchFrame } from '../BenchFrame.tsx';
import { ChannelFields } from './ChannelFields.tsx';
import { errorOf, isAnyWrong, textOf, typedDay, typedText, typedWithin, valueOf } from '../../../fields/typed.ts';
import { useBench, useBenchScreen, useMayAct, useToday } from '../use-bench.ts';
import './forms.css';

const words = bench.gas;
const figures = (['value', 'expanded'] as const).map((key) => ({ key, label: words[key], width: 180 }));
type Part = { channel: BenchChannel; value: string; expanded: string };

export function GasForm({ id }: { id: string | undefined }) {
  const screen = useBenchScreen();
  const may = useMayAct();
  const today = useToday();
  const known = useBench((state) => state.lists.gas.find((doc) => doc.id === id)?.body);
  const [texts, setTexts] = useState({
    name: known?.name ?? '',
    serial: known?.serial ?? '',
    certificate: known?.certificate ?? '',
    certified: known?.certified ?? '',
    expires: known?.expires ?? '',
    pressure: textOf(known?.pressureBar),
    hydrogen: textOf(known?.hydrogenPpm),
  });
  const [balance, setBalance] = useState<'nitrogen' | 'air'>(known?.balance ?? 'nitrogen');
  const [parts, setParts] = useState<Part[]>(
    known?.components.map(({ channel, value, expanded }) => ({ channel, value: String(value), expanded: String(expanded) })) ?? [
      { channel: 'o2', value: '', expanded: '' },
      { channel: 'co', value: '', expanded: '' },
    ],
  );
  const set = (key: keyof typeof texts) => (value: string) => setTexts({ ...texts, [key]: value });
  const setPart = (index: number, part: Partial<Part>): void => setParts(parts.map((one, i) => (i === index ? { ...one, ...part } : one)));
  const reads = {
    serial: typedText(texts.serial),
    certificate: typedText(texts.certificate),
    certified: typedDay(texts.certified),
    expires: typedDay(texts.expires),
    pressure: typedWithin(texts.pressure, { low: 0, high: 400 }),
    hydrogen: typedWithin(texts.hydrogen, { low: 0, high: 100_000 }),
  };
  const components = parts.map(({ value, expanded }) => ({
    value: typedWithin(value, { low: 0 }),
    expanded: typedWithin(expanded, { low: 0 }),
  }));
  const body = ReferenceGas.safeParse({
    format: 1,
    name: texts.name.trim(),
    balance,
    ...defined({
      serial: valueOf(reads.serial),
      certificate: valueOf(reads.certificate),
      certified: valueOf(reads.certified),
      expires: valueOf(reads.expires),
      pressureBar: valueOf(reads.pressure),
      hydrogenPpm: valueOf(reads.hydrogen),
      // not on this form, and not lost by it
      notes: known?.notes,
    }),
    components: parts.flatMap(({ channel, value, expanded }, i) => {
      if (value.trim() === '' && expanded.trim() === '') return [];
      const read = components[i];
      return [
        {
          channel,
          value: read && valueOf(read.value),
          expanded: read && valueOf(read.expanded),
        },
      ];
    }),
  });
  const wrong = isAnyWrong([...Object.values(reads), ...components.flatMap(({ value, expanded }) => [value, expanded])]);
  const flaws = body.success ? gasFlaws(body.data, today()) : [];
  const back = (): void => screen.leaveForm();
  const save = (): void => {
    if (body.success) void screen.saveDoc('gas', body.data, { id }).then((saved) => saved !== undefined && screen.leaveForm(saved));
  };
  const free = benchChannels.filter((channel) => !parts.some((part) => part.channel === channel));
  return (
    <BenchFrame
      title={words.title}
      about={known?.name}
      back={back}
      says={
        texts.name.trim() === ''
          ? `${words.name}?`
          : flaws.length > 0
            ? words.refused(texts.name.trim(), flaws.map((flaw) => words.flaws[flaw]).join(', '))
            : words.certifiedAbout
      }
      main={{ text: common.save, run: save, blocked: !may || wrong || !body.success }}
      others={
        id !== undefined && (
          <button type="button" className="button" disabled={!may} onClick={() => void screen.removeDoc('gas', id).then(back)}>
            {bench.home.remove}
          </button>
        )
      }
    >
      <div className="form-row">
        <Field label={words.name} value={texts.name} change={set('name')} numeric={false} width={320} first />
        <Field label={words.serial} value={texts.serial} change={set('serial')} numeric={false} width={180} />
        <Field label={words.certificate} value={texts.certificate} change={set('certificate')} numeric={false} width={220} />
      </div>
      <div className="form-row">
        <Choice
          label={words.balance}
          value={balance}
          change={setBalance}
          width={160}
          options={(['nitrogen', 'air'] as const).map((value) => ({ value, text: words.balances[value] }))}
        />
        <Field
          label={words.certified}
          value={texts.certified}
          change={set('certified')}
          numeric={false}
          width={170}
          hint={bench.instrument.dateHint}
          error={errorOf(reads.certified)}
        />
        <Field
          label={words.expires}
          value={texts.expires}
          change={set('expires')}
          numeric={false}
          width={170}
          hint={bench.instrument.dateHint}
          error={errorOf(reads.expires)}
        />
        <Field
          label={words.pressure}
          value={texts.pressure}
          change={set('pressure')}
          unit="bar"
          width={140}
          error={errorOf(reads.pressure)}
        />
        <Field
          label={words.hydrogen}
          value={texts.hydrogen}
          change={set('hydrogen')}
          unit="ppm"
          width={150}
          error={errorOf(reads.hydrogen)}
        />
      </div>
      <h2>{words.components}</h2>
      {parts.map((part, index) => (
        <ChannelFields
          key={part.channel}
          label={bench.limits.channel}
          typed={part}
          free={free}
          figures={figures}
          read={components[index]}
          change={(next) => setPart(index, next)}
        />
      ))}
      {free[0] !== undefined && (
        <div>
          <button
            type="button"
            className="button"
            onClick={() => free[0] !== undefined && setParts([...parts, { channel: free[0], value: '', expanded: '' }])}
          >
            {words.add}
          </button>
        </div>
      )}
    </BenchFrame>
  );
}
