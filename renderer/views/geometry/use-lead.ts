/** The leading, for the near and the far view alike: what stands in front of the hands, what was typed, and what Space does. */
import { readFigure, unlikely } from '../../../shared/geometry/figures-card.ts';
import { isLength, type GeometryItem } from '../../../shared/geometry/items.ts';
import { nextAt, sideAt, type Next } from '../../../shared/geometry/lead.ts';
import type { GeometryRow, Side } from '../../../shared/geometry/record.ts';
import { stepGroups, type HandStep, type HandStepId } from '../../../shared/geometry/steps.ts';
import type { GeometryVerdict } from '../../../shared/geometry/verdict.ts';
import { drawnFigures, geometryNow, type GeometryNow, type ItemNow } from '../../../shared/tuning/set-up/geometry-now.ts';
import { isNewChange } from '../../../shared/tuning/set-up/geometry-changes.ts';
import { changeKindOf } from '../../../shared/tuning/visit/steps.ts';
import { presentValue } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import { movedItems } from '../../../shared/tuning/set-up/geometry-now.ts';
import type { SetUpItem } from '../../../shared/tuning/set-up/set-up-sheet.ts';
import { inchFraction, type LengthUnit } from '../../../shared/units/length.ts';
import { cardProblemWords, failLines, geometryNames } from '../../../shared/words/geometry/geometry.ts';
import { setUpWords } from '../../../shared/words/visit/set-up-items.ts';
import { stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import { useApp, useParts } from '../../app-parts.ts';
import type { VisitChange } from '../../backend/visit-edits.ts';
import { fieldOf } from '../visit/steps/set-up/set-up-fields.ts';
import { leadSaysOf } from './lead-says.ts';
import { useVisit, type VisitHere } from '../visit/use-visit.ts';

const base = ['setUp', 'geometry'] as const;

/** The changes of a visit that a figure makes: the figure as typed, when, and what no longer counts because of it. */
export function figureChanges(here: VisitHere, item: GeometryItem, side: Side, text: string, wallMs: number): VisitChange[] {
  const { visit } = here;
  const row: GeometryRow | undefined = visit.setUp.geometry?.rows?.[item];
  const typed = text.trim();
  const time = side === 'asFound' ? 'foundMs' : 'leftMs';
  const path = [...base, 'rows', item];
  if (typed === '') return [{ path, after: { ...row, [side]: undefined, [time]: undefined } }];
  const changes: VisitChange[] = [{ path, after: { ...row, [side]: typed, [time]: wallMs } }];
  // air readings that were taken before a part was moved no longer count
  const old = (movedItems as Partial<Record<GeometryItem, SetUpItem>>)[item];
  const isHead = item === 'headToTubeEnd' || item === 'offCentre';
  const kind = side === 'asLeft' ? (old === undefined ? (isHead ? 'head' : undefined) : changeKindOf(old)) : undefined;
  const note = geometryNames[item];
  if (kind !== undefined && typed !== row?.asFound && isNewChange(visit, kind, note))
    changes.push({ path: ['changes', visit.changes.length], after: { wallMs, kind, note } });
  return changes;
}

/** The flow stamped on the nozzle: another nozzle puts the head setting, the start positions and every reading in doubt. */
export function flowChanges({ visit }: VisitHere, side: Side, after: number | undefined, wallMs: number): VisitChange[] {
  const row = visit.setUp.rows.nozzleFlowLh;
  const others = (visit.setUp.geometry?.changed ?? []).filter(({ what }) => what !== 'nozzle');
  const isNew = side === 'asLeft' && after !== undefined && after !== row?.asFound;
  const note = setUpWords.nozzleFlowLh;
  return [
    { path: ['setUp', 'rows', 'nozzleFlowLh'], after: { ...row, [side]: after } },
    ...(side === 'asLeft'
      ? [{ path: [...base, 'changed'], after: isNew ? [...others, { what: 'nozzle' as const, wallMs }] : others }]
      : []),
    ...(isNew && isNewChange(visit, 'nozzle', note)
      ? [{ path: ['changes', visit.changes.length], after: { wallMs, kind: 'nozzle' as const, note } }]
      : []),
  ];
}

/** Undefined while it can be read. */
export function figureError(item: GeometryItem, text: string, unit: LengthUnit): string | undefined {
  if (text.trim() === '') return undefined;
  const read = readFigure(item, text, unit);
  const wrong = read.ok ? unlikely(item, read.value, text, unit) : read.error;
  return wrong && cardProblemWords(wrong);
}

export type LeadField = {
  label: string;
  unit: string;
  text: string;
  hint: string;
  /** takes a unit behind the figure */
  isLength: boolean;
  error: string | undefined;
  change: (text: string) => void;
  /** one press more or less */
  nudge: (way: 1 | -1) => void;
};

export type Lead = {
  here: VisitHere;
  now: GeometryNow;
  step: HandStep;
  side: Side;
  item: ItemNow | undefined;
  verdict: GeometryVerdict | undefined;
  next: Next;
  done: ReadonlySet<HandStepId>;
  stale: readonly HandStepId[];
  place: { group: number; at: number; of: number };
  field: LeadField | undefined;
  /** what the main button says, and the sentence beside it */
  button: string;
  says: string;
  shortSays: string;
  act: () => void;
  go: (to: HandStepId) => void;
  leave: (() => void) | undefined;
  back: (() => void) | undefined;
  newNozzle: (() => void) | undefined;
  figures: ReturnType<typeof drawnFigures>;
};

/** @param finish after the last step */
export function useLead(finish: { name: string; run: () => void }): Lead {
  const { visits } = useParts();
  const here = useVisit();
  const fieldTexts = useApp((state) => state.fieldTexts);
  const fieldTyped = useApp((state) => state.fieldTyped);
  const { visit, edit, may, units } = here;
  const sheet = visit.setUp;
  const record = sheet.geometry ?? {};
  const now = geometryNow(sheet);
  const step = now.steps.find(({ id }) => id === record.at?.step) ?? now.steps[0]!;
  const itemNow = step.item === undefined ? undefined : now.items[step.item];
  const isNozzle = step.id === 'nozzle-stamp';
  const flowRow = sheet.rows.nozzleFlowLh;
  const has = isNozzle
    ? { asFound: flowRow?.asFound !== undefined, asLeft: flowRow?.asLeft !== undefined }
    : { asFound: itemNow?.asFound !== undefined, asLeft: itemNow?.asLeft !== undefined };
  const side = record.at?.step === step.id ? record.at.side : sideAt(step, has);
  const verdict = itemNow?.verdicts[side];
  const done = new Set(record.done ?? []);
  const stale = now.steps
    .filter(({ id, item }) => id !== 'adjuster-as-found' && item !== undefined && now.items[item].staleBecause !== undefined)
    .map(({ id }) => id);
  const decided = nextAt(
    { step: step.id, side },
    { steps: now.steps, verdictOf: (one) => itemNow?.verdicts[one], loose: now.loose, stale },
  );
  const fieldName = `geometry-${step.id}-${side}`;
  const field = fieldHere();
  const isWrong = field?.error !== undefined;
  const next: Next = isWrong || (isNozzle && !has[side]) ? { key: 'measure' } : decided;
  const index = now.steps.indexOf(step);
  const group = now.steps.filter((one) => one.group === step.group);

  const sideFor = (id: HandStepId): Side => {
    const target = now.steps.find((one) => one.id === id);
    const row = target?.item === undefined ? undefined : now.items[target.item];
    return target === undefined ? 'asFound' : sideAt(target, { asFound: row?.asFound !== undefined, asLeft: row?.asLeft !== undefined });
  };
  const moveTo = (id: HandStepId, to: Side): VisitChange => ({ path: [...base, 'at'], after: { step: id, side: to } });
  const doneHere = (): VisitChange[] => {
    const changes: VisitChange[] = [];
    if (!done.has(step.id)) changes.push({ path: [...base, 'done'], after: [...done, step.id] });
    // a part that is loosened again is asked for again
    const tight = (record.tight ?? []).filter((part) => step.loosens?.includes(part) !== true);
    if (!done.has(step.id) && tight.length !== (record.tight ?? []).length) changes.push({ path: [...base, 'tight'], after: tight });
    return changes;
  };
  const goOn = (to: HandStepId | undefined, staleAgain = false): void => {
    if (to === undefined) {
      edit(...doneHere());
      return finish.run();
    }
    const row = now.steps.find(({ id }) => id === to)?.item;
    edit(...doneHere(), moveTo(to, staleAgain && row !== undefined ? 'asLeft' : sideFor(to)));
  };
  const following = now.steps[index + 1]?.id;
  const before = now.steps[index - 1]?.id;

  const focusField = (): void => {
    const input = document.querySelector<HTMLInputElement>('.fraction-field input');
    input?.focus();
    input?.select();
  };
  const act = (): void => {
    if (!may) return;
    switch (next.key) {
      case 'measure':
        return focusField();
      case 'measure-again':
        if (side === 'asFound') edit(moveTo(step.id, 'asLeft'));
        return focusField();
      case 'tighten':
        return void edit({ path: [...base, 'tight'], after: [...(record.tight ?? []), next.part] });
      case 'go-to-stale':
        return goOn(next.to, true);
      case 'go-on':
        return goOn(next.to);
      case 'finish':
        return goOn(undefined);
    }
  };

  const name = (id: HandStepId): string => stepWords(id, now.card?.adjuster).name;
  const fail = itemNow !== undefined && verdict?.verdict === 'fail' ? failLines(itemNow.item, verdict, now.unit) : undefined;
  const { button, says, shortSays } = leadSaysOf({
    next,
    order: fail?.shortOrder,
    wrong: isWrong ? { saved: itemNow?.[side] ?? '' } : undefined,
    looseCount: now.loose.length,
    nameOf: name,
    titleOf: (id) => stepWords(id, now.card?.adjuster).title,
    finish: finish.name,
  });

  return {
    here,
    now,
    step,
    side,
    item: itemNow,
    // of the figure in the field: none while it cannot be read
    verdict: isWrong ? undefined : verdict,
    next,
    done,
    stale,
    place: { group: stepGroups.indexOf(step.group) + 1, at: group.indexOf(step) + 1, of: group.length },
    field,
    button,
    says,
    shortSays,
    act,
    go: (to) => void edit(moveTo(to, sideFor(to))),
    leave: may && (next.key === 'measure-again' || next.key === 'measure') ? () => goOn(following) : undefined,
    back: before === undefined ? undefined : () => void edit(moveTo(before, sideFor(before))),
    newNozzle: may && isNozzle && side === 'asFound' && has.asFound ? () => void edit(moveTo(step.id, 'asLeft')) : undefined,
    figures: drawnFigures(now, presentValue(sheet, 'nozzleAngleDeg')),
  };

  function fieldHere(): LeadField | undefined {
    const kept = fieldTexts[fieldName];
    if (isNozzle) {
      const { unit, read, write } = fieldOf('nozzleFlowLh', units, sheet.lengthUnit);
      const value = flowRow?.[side];
      const text = kept ?? (value === undefined ? '' : write(value));
      const change = (typed: string): void => {
        const parsed = read(typed);
        const isBelow = parsed.kind === 'value' && parsed.value <= 0;
        fieldTyped(fieldName, parsed.kind === 'empty' ? undefined : typed);
        if (parsed.kind === 'wrong' || isBelow) return;
        const after = parsed.kind === 'empty' ? undefined : parsed.value;
        edit(...flowChanges(here, side, after, visits.nowWallMs()));
      };
      const parsed = read(text);
      const nudge = (way: 1 | -1): void => {
        const shown = read(text);
        const plain = shown.kind === 'value' ? Number(write(shown.value)) : 0;
        change(String(Number(Math.max(0, plain + way * 0.05).toFixed(2))));
      };
      return {
        label: `${words.nozzleFlow}, ${words.sides[side]}`,
        unit,
        text,
        hint: '',
        isLength: false,
        error: parsed.kind === 'wrong' ? parsed.error : undefined,
        change,
        nudge,
      };
    }
    if (itemNow === undefined) return undefined;
    const { item } = itemNow;
    const text = kept ?? itemNow[side] ?? '';
    const unit = sheet.lengthUnit;
    const error = figureError(item, text, unit);
    const change = (typed: string): void => {
      const isWrong = figureError(item, typed, unit) !== undefined;
      fieldTyped(fieldName, isWrong || /\s$/.test(typed) ? typed : undefined);
      if (isWrong) return;
      const refused = edit(...figureChanges(here, item, side, typed, visits.nowWallMs()));
      if (refused !== undefined) fieldTyped(fieldName, typed);
    };
    const nudge = (way: 1 | -1): void => {
      const { found } = itemNow;
      const nominal = found.state === 'given' ? (found.figure.nominal ?? found.figure.low ?? found.figure.high) : undefined;
      const read = readFigure(
        item,
        text === '' ? (itemNow.asFound ?? nominal ?? '0') : text,
        text === '' && itemNow.asFound === undefined && nominal !== undefined ? (now.card?.lengthUnit ?? unit) : unit,
      );
      const value = read.ok ? read.value : 0;
      if (!isLength(item)) return change(String(Number(Math.max(0, value + way * 0.25).toFixed(2))));
      if (unit === 'mm') return change(String(Number(Math.max(0, Math.round(value * 2 + way) / 2).toFixed(1))));
      change(inchFraction(Math.max(0, (Math.round((value / 25.4) * 32) + way) / 32) * 25.4, 32).text);
    };
    const label = isLength(item) ? words.measured[side] : words.position[side];
    const ofTips = item === 'heightAboveCentreline' || item === 'aheadOfNozzle';
    return {
      label: ofTips && side === 'asFound' ? label.replace(',', `${words.tips},`) : label,
      // a figure that was typed with its unit has it already
      unit: !isLength(item) || /[a-z"″]\.?$/i.test(text.trim()) ? '' : unit === 'mm' ? 'mm' : 'in',
      text,
      isLength: isLength(item),
      hint: !isLength(item) ? words.hintScale : unit === 'mm' ? words.hintMm : words.hintInch,
      error,
      change,
      nudge,
    };
  }
}
