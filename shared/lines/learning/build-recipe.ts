import type { ChannelId } from '../../measurement/channel.ts';
import { LineRecipe, type FieldPlace, type LineRecipeInput } from '../../measurement/recipe.ts';
import { unitsFor, type SentUnit } from '../../measurement/sent-unit.ts';
import { instrumentState } from '../reading/absent-words.ts';
import { toInner } from '../to-inner.ts';
import { classicSentinel } from '../reading/sentinels.ts';
import { channelOfRole, type Role } from './names/roles.ts';
import { findFlags } from './find-flags.ts';
import type { FoundClock } from './find-clock.ts';
import type { Identity } from './judging/identity.ts';
import { mainRoles } from './judging/main-options.ts';
import type { Column, Table } from './tables/table.ts';
import { recipeNames } from '../../words/core/lines.ts';
import { defined } from '../../defined.ts';

const restChannels: Partial<Record<Role, ChannelId>> = channelOfRole;
const isMainRole = (role: Role): boolean => (mainRoles as readonly Role[]).includes(role);
const usualUnit: Partial<Record<ChannelId, SentUnit>> = { co2: '%', no: 'ppm', no2: 'ppm', so2: 'ppm', ambientCo: 'ppm' };

export type RecipeParts = {
  readonly table: Table;
  readonly identity: Identity;
  readonly clock: FoundClock;
  readonly encoding: 'latin1' | 'utf8' | 'cp437';
  readonly ignorePrefixes: readonly string[];
  readonly ignoreFirstLine: boolean;
  readonly logPrefix?: boolean | undefined;
};

function recipeName({ shape, check, style }: Table): string {
  const checked = (name: string): string => (check.kind === 'none' ? name : recipeNames.checked(name));
  switch (shape.kind) {
    case 'columns':
      return checked(recipeNames.columns(shape.delimiter, style.decimal === ','));
    case 'keyed':
      return checked(shape.gather === undefined ? recipeNames.keyed : recipeNames.keyedInTurn);
    case 'tagged':
    case 'cycle':
    case 'fixed':
    case 'pattern':
      return checked(recipeNames[shape.kind]);
    case 'json':
    case 'registers':
      return recipeNames[shape.kind];
  }
}

/** No chimney pulls so: the pressure of the air, or of something else. */
const MOST_DRAFT_PA = 1000;
function isBeyondDraft({ unit, statistics }: Column): boolean {
  const conversion = unit === undefined ? undefined : toInner('draft', unit);
  if (statistics === undefined || conversion === undefined) return false;
  return Math.max(Math.abs(statistics.low), Math.abs(statistics.high)) * conversion.factor > MOST_DRAFT_PA;
}

/** What lies outside is no measured value, whatever the instrument sends; in the channel's inner unit. */
const possible: Partial<Record<ChannelId, readonly [number, number]>> = {
  // -1 is no oxygen, though many a board sends it for 'none'; nor is 25.5, the end of a byte in tenths
  o2: [-0.99, 25.4],
  co: [-200, 1e6],
  co2: [-2, 100],
  stackTemperature: [-60, 1800],
  airTemperature: [-60, 120],
};

/** Numbers inside the possible range that instruments send for 'too high'; taken as such where all values seen are far below. */
const likelySentinels: Partial<Record<ChannelId, readonly number[]>> = {
  co: [9999, 99_999, 32_767, 65_535, 9999.9, 9999.99, 6553.5, 3276.7],
  stackTemperature: [999, 999.9],
};
/** degC: an open Pt100 reads as the end of IEC 60751, an open thermocouple as that of type K in IEC 60584 */
const OPEN_SENSOR_C = [850, 1372];
/** where CO comes in whole ppm, a tenth is none of its values */
const CO_BESIDE_WHOLE_PPM = [999.9, 999.99];
/** ppm: a byte that says 'no sensor' */
const CO_FAULTS = [-127, -128];

/** Words of a status column: with at most a few different ones, most of them words. */
function findStatus(table: Table, identity: Identity, taken: ReadonlySet<FieldPlace>): Column | undefined {
  const used = new Set(mainRoles.map((role) => identity.main[role]?.column));
  const isWords = (column: Column): boolean => {
    const filled = column.texts.filter((text) => text !== '');
    return filled.length >= table.rows * 0.5 && filled.filter((text) => instrumentState(text) !== undefined).length >= filled.length * 0.3;
  };
  const candidates = table.columns.filter(({ at }, index) => !used.has(index) && !taken.has(at));
  return (
    candidates.find((column) => (column.meaning.roles.status ?? 0) >= 3) ??
    candidates.find((column) => column.statistics === undefined && isWords(column))
  );
}

/**
 * Where the decimal mark has been seen, the other mark before three digits can only part thousands. CO of 1,098 ppm may come long after
 * the recipe, and must not go missing just when it is high.
 */
function thousandsOf({ style, shape, columns }: Table): LineRecipe['thousands'] {
  if (style.thousands !== 'none' || !columns.some(({ statistics }) => (statistics?.decimals ?? 0) > 0)) return style.thousands;
  if (style.decimal === ',') return 'point';
  return shape.kind === 'columns' && [',', ', ', 'comma-or-semicolon'].includes(shape.delimiter) && !shape.quoted ? 'none' : 'comma';
}

export function buildRecipe({ table, identity, clock, encoding, ignorePrefixes, ignoreFirstLine, logPrefix }: RecipeParts): LineRecipe {
  const fields: LineRecipeInput['fields'] = [];
  const sentinels: NonNullable<LineRecipeInput['sentinels']> = [];
  const add = (channel: ChannelId, column: Column, unit: SentUnit, read: number): void => {
    const scale = Number((read * (column.multiplier?.factor ?? 1)).toPrecision(12));
    const name = column.name === '' || table.shape.kind !== 'columns' ? {} : { name: column.name.slice(0, 80) };
    const bounds = possible[channel];
    const valid = bounds === undefined ? {} : { valid: [bounds[0], bounds[1]] as [number, number] };
    fields.push({ channel, at: column.at, unit, ...name, ...(scale === 1 ? {} : { scale }), ...valid });
    // a chimney can have -1 Pa
    const ofColumn = channel === 'draft' ? column.sentinels.filter((value) => value !== -1) : column.sentinels;
    for (const value of ofColumn) sentinels.push({ value, means: classicSentinel(value) ?? 'error', channel });
    // What has not come yet, and could be taken for a measured value when it comes.
    const highest = (column.statistics?.high ?? 0) * read;
    const isNew = (value: number): boolean => scale === 1 && !column.sentinels.includes(value);
    const broken = channel === 'co' && column.statistics?.decimals === 0 ? CO_BESIDE_WHOLE_PPM : [];
    const open = channel === 'stackTemperature' && unit === 'C' ? OPEN_SENSOR_C : [];
    for (const value of [...(likelySentinels[channel] ?? []), ...broken, ...open])
      if (isNew(value) && highest < value / 3) sentinels.push({ value, means: 'over-range', channel });
    if (channel === 'co') for (const value of CO_FAULTS) if (isNew(value)) sentinels.push({ value, means: 'error', channel });
  };
  for (const role of mainRoles) {
    const reading = identity.main[role];
    const column = reading === undefined ? undefined : table.columns[reading.column];
    if (reading !== undefined && column !== undefined) add(channelOfRole[role], column, reading.unit, reading.scale);
  }
  const taken = new Set<string>();
  for (const { column: index, role, unit: known, scale } of identity.rest) {
    const column = table.columns[index];
    const channel = isMainRole(role) ? undefined : restChannels[role];
    if (column === undefined || channel === undefined || taken.has(channel)) continue;
    // A guess from the numbers alone is no reason to show a gas; only CO2 proves itself by its relation to O2.
    // A pressure that names its unit, and is one of a chimney, is the draft.
    const isPressure =
      role === 'draft' && column.name === '' && column.unit !== undefined && column.unit !== '%' && column.statistics?.decimals !== 0;
    const isSaid = (column.meaning.roles[role] ?? 0) >= 1 || isPressure;
    const unit = known ?? column.unit ?? usualUnit[channel];
    const { multiplier } = column;
    // only what the question shows may be used with a factor that could be read two ways
    if (column.isTwofold === true || (multiplier?.isClear === false && (role !== 'co2' || multiplier.factor === undefined))) continue;
    if (column.foreign !== undefined || (role !== 'draft' && column.meaning.excludedBy !== undefined)) continue;
    // only a person says of what state the gas is
    if (unit === 'mg/m3') continue;
    if (role === 'draft' && isBeyondDraft(column)) continue;
    if ((!isSaid && role !== 'co2') || unit === undefined || !unitsFor(channel).includes(unit)) continue;
    taken.add(channel);
    add(channel, column, unit, scale ?? (column.scales.length > 1 && role === 'co2' ? 0.1 : 1));
  }
  const flags = findFlags(table, fields);
  const status = findStatus(table, identity, new Set(flags.map(({ at }) => at)));
  const bounded = (text: string): string => text.slice(0, 80);
  const { shape } = table;
  const longestLine = table.longestLine ?? 0;
  return LineRecipe.parse({
    format: 'flueside-recipe',
    version: 1,
    name: recipeName(table),
    shape: shape.kind === 'columns' && shape.header !== undefined ? { ...shape, header: shape.header.map(bounded) } : shape,
    fields,
    time: clock.time,
    check: table.check,
    ...defined({
      coBasisKnown: table.columns.some(({ meaning }) => meaning.roles.coCorrected !== undefined) ? true : undefined,
      flags: flags.length === 0 ? undefined : flags,
      status: status === undefined ? undefined : { at: status.at, ...(status.name === '' ? {} : { name: bounded(status.name) }) },
    }),
    ignore: {
      prefixes: [...new Set([...(table.headPrefixes ?? []), ...ignorePrefixes])].slice(0, 64),
      prompts: [...table.prompts],
      firstLine: ignoreFirstLine,
      logPrefix: logPrefix ?? false,
    },
    framing: { encoding, ...(longestLine > 1024 ? { longestLine: 16_384 } : {}) },
    decimal: table.style.decimal,
    thousands: thousandsOf(table),
    sentinels,
  } satisfies LineRecipeInput);
}
