import { useState } from 'react';
import { Instrument, benchChannels, type BenchChannel } from '../../../../shared/bench/instrument.ts';
import { defined } from '../../../../shared/defined.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { common } from '../../../../shared/words/common.ts';
import { Check, Field } from '../../../components/Field.tsx';
import { BenchFrame } from '../BenchFrame.tsx';
import { ChannelFields } from './ChannelFields.tsx';
import {
  empty,
  errorOf,
  isAnyWrong,
  textOf,
  type Typed,
  typedDay,
  typedPlain,
  typedText,
  typedWithin,
  valueOf,
} from '../../../fields/typed.ts';
import { useBench, useBenchScreen, useMayAct } from '../use-bench.ts';
import './forms.css';

const words = bench.instrument;
const figures = [
  { key: 'low', label: words.low, width: 120 },
  { key: 'high', label: words.high, width: 130 },
  { key: 'resolution', label: words.resolution, width: 120 },
] as const;
type CellDraft = {
  channel: BenchChannel;
  serial: string;
  installed: string;
  low: string;
  high: string;
  resolution: string;
  compensated: boolean;
};
const usual: Partial<Record<BenchChannel, Pick<CellDraft, 'low' | 'high' | 'resolution'>>> = {
  o2: { low: '0', high: '25', resolution: '0.1' },
  co: { low: '0', high: '4000', resolution: '1' },
};
const newCell = (channel: BenchChannel): CellDraft => ({
  channel,
  serial: '',
  installed: '',
  compensated: false,
  low: '0',
  high: '',
  resolution: '',
  ...usual[channel],
});

export function InstrumentForm({ id }: { id: string | undefined }) {
  const screen = useBenchScreen();
  const may = useMayAct();
  const known = useBench((state) => state.lists.instrument.find((doc) => doc.id === id)?.body);
  const [texts, setTexts] = useState({
    name: known?.name ?? '',
    serial: known?.serial ?? '',
    firmware: known?.firmware ?? '',
    hose: known?.hose ?? '',
    filterChanged: known?.filterChanged ?? '',
    certificateUntil: known?.certificateUntil ?? '',
    notes: known?.notes ?? '',
  });
  const [cells, setCells] = useState<CellDraft[]>(
    known?.cells.map((cell) => ({
      channel: cell.channel,
      serial: cell.serial ?? '',
      installed: cell.installed ?? '',
      low: String(cell.rangeLow),
      high: String(cell.rangeHigh),
      resolution: textOf(cell.resolution),
      compensated: cell.hydrogenCompensated ?? false,
    })) ?? [newCell('o2'), newCell('co')],
  );
  const set = (key: keyof typeof texts) => (value: string) => setTexts({ ...texts, [key]: value });
  const setCell = (index: number, part: Partial<CellDraft>): void =>
    setCells(cells.map((cell, i) => (i === index ? { ...cell, ...part } : cell)));
  const dates = { filterChanged: typedDay(texts.filterChanged), certificateUntil: typedDay(texts.certificateUntil) };
  const reads = cells.map((cell) => ({
    low: typedPlain(cell.low),
    high: typedPlain(cell.high),
    resolution: typedWithin(cell.resolution, { low: 1e-4 }),
    installed: typedDay(cell.installed),
  }));
  const body = Instrument.safeParse({
    format: 1,
    name: texts.name.trim(),
    ...defined({
      serial: valueOf(typedText(texts.serial)),
      firmware: valueOf(typedText(texts.firmware)),
      hose: valueOf(typedText(texts.hose)),
      notes: valueOf(typedText(texts.notes)),
      // not on this form, and not lost by it
      recipeName: known?.recipeName,
      filterChanged: valueOf(dates.filterChanged),
      certificateUntil: valueOf(dates.certificateUntil),
    }),
    cells: cells.map((cell, i) => {
      const read = reads[i];
      return {
        channel: cell.channel,
        rangeLow: (read && valueOf(read.low)) ?? 0,
        rangeHigh: read && valueOf(read.high),
        ...defined({
          serial: valueOf(typedText(cell.serial)),
          installed: read && valueOf(read.installed),
          resolution: read && valueOf(read.resolution),
          hydrogenCompensated: cell.channel === 'co' ? cell.compensated : undefined,
        }),
      };
    }),
  });
  const wrong = isAnyWrong([...Object.values(dates), ...reads.flatMap((read) => Object.values<Typed<unknown>>(read))]);
  const back = (): void => screen.leaveForm();
  const save = (): void => {
    if (body.success) void screen.saveDoc('instrument', body.data, { id }).then((saved) => saved !== undefined && screen.leaveForm(saved));
  };
  const free = benchChannels.filter((channel) => !cells.some((cell) => cell.channel === channel));
  return (
    <BenchFrame
      title={words.title}
      about={known?.name}
      back={back}
      says={texts.name.trim() === '' ? `${words.name}?` : ''}
      main={{ text: common.save, run: save, blocked: !may || wrong || !body.success }}
      others={
        id !== undefined && (
          <button type="button" className="button" disabled={!may} onClick={() => void screen.removeDoc('instrument', id).then(back)}>
            {bench.home.remove}
          </button>
        )
      }
    >
      <div className="form-row">
        <Field label={words.name} value={texts.name} change={set('name')} numeric={false} width={320} first />
        <Field label={words.serial} value={texts.serial} change={set('serial')} numeric={false} width={200} />
        <Field label={words.firmware} value={texts.firmware} change={set('firmware')} numeric={false} width={160} />
      </div>
      <div className="form-row">
        <Field label={words.hose} value={texts.hose} change={set('hose')} numeric={false} width={320} />
        <Field
          label={words.filterChanged}
          value={texts.filterChanged}
          change={set('filterChanged')}
          numeric={false}
          width={200}
          hint={words.dateHint}
          error={errorOf(dates.filterChanged)}
        />
        <Field
          label={words.certificateUntil}
          value={texts.certificateUntil}
          change={set('certificateUntil')}
          numeric={false}
          width={200}
          hint={words.dateHint}
          error={errorOf(dates.certificateUntil)}
        />
      </div>
      <h2>{words.cells}</h2>
      {cells.map((cell, index) => (
        <ChannelFields
          key={cell.channel}
          label={words.cell}
          typed={cell}
          free={free}
          figures={figures}
          read={reads[index]}
          change={(next) => setCell(index, next)}
        >
          <Field
            label={words.installed}
            value={cell.installed}
            change={(installed) => setCell(index, { installed })}
            numeric={false}
            width={150}
            error={errorOf(reads[index]?.installed ?? empty)}
          />
          <Field label={words.cellSerial} value={cell.serial} change={(serial) => setCell(index, { serial })} numeric={false} width={150} />
          {cell.channel === 'co' && (
            <Check label={words.compensated} checked={cell.compensated} change={(compensated) => setCell(index, { compensated })} />
          )}
          <button
            type="button"
            className="button"
            onClick={() => setCells(cells.filter((_, i) => i !== index))}
            aria-label={`${words.removeCell} ${bench.channels[cell.channel]}`}
          >
            {words.removeCell}
          </button>
        </ChannelFields>
      ))}
      {free[0] !== undefined && (
        <div>
          <button type="button" className="button" onClick={() => free[0] !== undefined && setCells([...cells, newCell(free[0])])}>
            {words.addCell}
          </button>
        </div>
      )}
      <Field label={words.notes} value={texts.notes} change={set('notes')} numeric={false} />
    </BenchFrame>
  );
}
