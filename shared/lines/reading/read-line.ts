import type { FieldSpan, StampedLine } from '../../measurement/line.ts';
import type { LineRecipe } from '../../measurement/recipe.ts';
import type { Sample } from '../../measurement/sample.ts';
import { cleanLine } from '../clean-line.ts';
import { rejected, slotsOf, type Extraction, type Extractor, type Slots } from './extraction.ts';
import { createFastColumns } from './fast-columns.ts';
import { createInstrumentClock } from './instrument-clock.ts';
import { saysCoBasis } from '../learning/names/co-basis.ts';
import { lineForCheck, verifyCheck } from '../line-check.ts';
import type { LineRead } from './line-read.ts';
import { peelLog } from '../peel-log.ts';
import { createColumnsExtractor } from './read-columns.ts';
import { createCycleExtractor } from './read-cycle.ts';
import { createFieldReader, createFlagReader, createStatusReader } from './read-field.ts';
import { createKeyedExtractor } from './read-keyed.ts';
import {
  createFixedExtractor,
  createJsonExtractor,
  createPatternExtractor,
  createRegistersExtractor,
  createTaggedExtractor,
} from './read-places.ts';
import { rejectionTexts } from '../../words/core/lines.ts';

/** A line through a recipe. The same lines in the same order give the same reads; no bytes make it throw. */
export type LineReader = {
  /** a banner has said so: CO is left out from there on */
  readonly isCoCorrected: boolean;
  read(line: StampedLine): LineRead;
  /** The same with the places of the fields, for the line view. */
  readWithSpans(line: StampedLine): LineRead;
  /** What a half-done cycle holds when the stream ends. */
  end(): LineRead | undefined;
};

export type LineReaderOptions = {
  /** A port that was just opened: the first line is probably cut and is not read. */
  readonly dropFirstLine?: boolean | undefined;
  /** the lines before these had a banner that says so */
  readonly wasCoCorrected?: boolean | undefined;
};

const PART: LineRead = { kind: 'part' };
const usualComment = /^\s*(?:#\s*(?![\d\s+-])|\/\/|\*{3,}|(?:[-=_~*+.|:]\s?){3,}$|--\s)/;

function extractorFor({ shape }: LineRecipe, slots: Slots): Extractor {
  switch (shape.kind) {
    case 'columns':
      return createColumnsExtractor(shape, slots.list);
    case 'keyed':
      return createKeyedExtractor(shape, slots.list);
    case 'tagged':
      return createTaggedExtractor(shape, slots.list);
    case 'cycle':
      return createCycleExtractor(shape, slots.list);
    case 'json':
      return createJsonExtractor(shape, slots.list);
    case 'fixed':
      return createFixedExtractor(shape, slots.list);
    case 'registers':
      return createRegistersExtractor(shape, slots.list);
    case 'pattern':
      return createPatternExtractor(shape, slots.list);
  }
}

export function createLineReader(
  recipe: LineRecipe,
  { dropFirstLine = false, wasCoCorrected = false }: LineReaderOptions = {},
): LineReader {
  const slots = slotsOf(recipe);
  const extractor = extractorFor(recipe, slots);
  const fields = recipe.fields.map((field) => createFieldReader(recipe, field));
  const readStatus = createStatusReader(recipe);
  const flags = (recipe.flags ?? []).map(createFlagReader);
  const clock = recipe.time.kind === 'field' ? createInstrumentClock(recipe.time) : undefined;
  const fast = createFastColumns({ recipe, slots, fields, clock, readStatus, extractor });
  const { check, ignore } = recipe;
  const isPlainPattern = recipe.shape.kind === 'pattern' && recipe.shape.gather === undefined;
  let isFirst = true;
  const watchesCo = recipe.coBasisKnown !== true && recipe.fields.some(({ channel }) => channel === 'co');
  /** a banner has said that CO is corrected: from then on it is no measured CO */
  let isCoCorrected = watchesCo && wasCoCorrected;

  const toSample = ({ texts, units }: Extract<Extraction, { kind: 'texts' }>, timeMs: number): LineRead => {
    const sample: Sample = { timeMs, values: {} };
    let known = 0;
    let strange = 0;
    let unread = '';
    for (let slot = 0; slot < fields.length; slot++) {
      const bare = texts[slot];
      const field = fields[slot];
      if (bare === undefined || field === undefined) continue;
      // a text that names its own unit is read in it
      const text = units?.[slot] === undefined || !/\d/.test(bare) ? bare : `${bare} ${units[slot]}`;
      if (field.takeText(text, sample) === 'unknown') {
        unread ||= rejectionTexts.noNumber(text.slice(0, 40));
        strange += 1;
      } else known += 1;
    }
    // Prose that happens to have as many words as a reading has columns.
    if (known === 0 || (strange >= 2 && strange >= known))
      return unread === ''
        ? { kind: 'rejected', reason: 'no-channel', detail: rejectionTexts.noChannel }
        : { kind: 'rejected', reason: 'not-a-number', detail: unread };
    if (isCoCorrected && sample.values.co !== undefined) {
      delete sample.values.co;
      (sample.absent ??= {}).co = 'corrected';
    }
    const timeText = texts[slots.time];
    if (clock !== undefined && timeText !== undefined) {
      const instrumentMs = clock.read(timeText, texts[slots.date]);
      if (instrumentMs !== undefined) sample.instrumentMs = instrumentMs;
      // 'Mean;5.1;30': a word where the time belongs makes it a line about the readings, not one of them.
      else if (/^\s*"?[A-Za-z]{3,}/.test(timeText) && !/\d/.test(timeText)) return { kind: 'ignored', why: 'banner' };
    }
    const statusText = texts[slots.status];
    if (statusText !== undefined) readStatus(statusText, sample);
    for (const [at, readFlag] of flags.entries()) readFlag(texts[slots.flags[at] ?? -1], sample);
    return { kind: 'sample', sample };
  };

  const finish = (extraction: Extraction, line: StampedLine): LineRead => {
    switch (extraction.kind) {
      case 'texts':
        return toSample(extraction, extraction.fromMs ?? line.timeMs);
      case 'part':
        return PART;
      case 'ignored':
      case 'rejected':
        return extraction;
    }
  };

  /** Everything before the shape: cut lines, prompts, comments, the check, noise. */
  const prepare = (line: StampedLine): Extraction | string => {
    if (line.cutBytes !== undefined) {
      const isHalf = line.bytes.length < recipe.framing.longestLine;
      return rejected('cut', isHalf ? rejectionTexts.noEnd : rejectionTexts.cut(recipe.framing.longestLine, line.cutBytes));
    }
    let bytes = line.bytes;
    for (const prefix of ignore.prefixes) if (bytes.startsWith(prefix)) return { kind: 'ignored', why: 'echo' };
    if (ignore.logPrefix) bytes = peelLog(bytes);
    const isComment = recipe.shape.kind !== 'fixed' && recipe.shape.kind !== 'cycle' && usualComment.test(bytes);
    // A pattern says itself what it reads: '#O2:4.5%#CO:12ppm#' may be a reading.
    if (isComment && (!isPlainPattern || extractor.extract(bytes, line.timeMs).kind === 'rejected'))
      return { kind: 'ignored', why: 'comment' };
    if (check.kind !== 'none') {
      const verified = verifyCheck(check, lineForCheck(check, bytes));
      if (!verified.ok) {
        if (!/\d/.test(bytes)) return { kind: 'ignored', why: 'banner' };
        return rejected(verified.why, verified.detail);
      }
      bytes = verified.body;
    }
    const { text: cleaned, isDirty } = cleanLine(bytes, recipe.framing.encoding);
    const prompt = ignore.prompts.find((candidate) => cleaned.startsWith(candidate));
    const text = prompt === undefined ? cleaned : cleaned.slice(prompt.length);
    if (text.trim() === '') return { kind: 'ignored', why: 'banner' };
    if (isDirty) return rejected('unprintable', rejectionTexts.unprintable);
    return text;
  };

  const readSlowly = (line: StampedLine): { read: LineRead; extraction: Extraction; text: string } => {
    const prepared = prepare(line);
    const text = typeof prepared === 'string' ? prepared : '';
    const extraction = typeof prepared === 'string' ? extractor.extract(prepared, line.timeMs) : prepared;
    const read = finish(extraction, line);
    if (watchesCo && (read.kind === 'ignored' || read.kind === 'rejected')) isCoCorrected ||= saysCoBasis(line.bytes);
    return { read, extraction, text };
  };

  const afterFirst = (read: LineRead): LineRead => {
    if (!isFirst) return read;
    isFirst = false;
    const isCutShort = read.kind === 'rejected' && read.reason !== 'cut';
    return isCutShort || (read.kind === 'sample' && (dropFirstLine || ignore.firstLine)) ? { kind: 'ignored', why: 'first-line' } : read;
  };

  return {
    get isCoCorrected() {
      return isCoCorrected;
    },
    read(line) {
      const quick = isCoCorrected ? undefined : fast?.(line);
      if (quick !== undefined) return isFirst ? afterFirst(quick) : quick;
      return afterFirst(readSlowly(line).read);
    },
    readWithSpans(line) {
      const { read, extraction, text } = readSlowly(line);
      const stamped = afterFirst(read);
      if (stamped.kind !== 'sample' || extraction.kind !== 'texts') return stamped;
      const spans: FieldSpan[] = [];
      // Cleaning only takes bytes away in front of a field, so that its text stands at or after its place in the clean text.
      const shift = Math.max(0, line.bytes.indexOf(text.slice(0, 12)));
      extraction.texts.forEach((found, slot) => {
        const channel = recipe.fields[slot]?.channel ?? (slot === slots.time ? 'time' : slot === slots.status ? 'status' : undefined);
        if (found === undefined || found === '' || channel === undefined) return;
        const bare = found.trim();
        const start = line.bytes.indexOf(bare, (extraction.starts[slot] ?? 0) + shift);
        if (start >= 0) spans.push({ channel, start, end: start + bare.length });
      });
      return { ...stamped, spans };
    },
    end() {
      const rest = extractor.end?.();
      return rest === undefined ? undefined : finish(rest, { timeMs: 0, bytes: '' });
    },
  };
}
