/**
 * Columns that say whether the values beside them are any: 'valid', 'ready', 'error', 'co.status'. A flag of all values, or of one where its name says
 * which. What it has not said yet may count as 'no value', as a board shows its fault for the first time long after the recipe: see `createFlagReader`.
 */
import type { ChannelId } from '../../measurement/channel.ts';
import type { RecipeFlag, RecipeField } from '../../measurement/recipe.ts';
import { absentReason, instrumentState } from '../reading/absent-words.ts';
import { nameMeaning } from './names/column-name.ts';
import { words } from './names/plain-words.ts';
import { channelOfRole, type Role } from './names/roles.ts';
import type { Column, Table } from './tables/table.ts';

// A and V: valid and not valid, as in NMEA 0183
const truthy = ['TRUE', '1', 'YES', 'T', 'Y', 'ON', 'OK', 'A'];
const falsy = ['FALSE', '0', 'NO', 'F', 'N', 'OFF', 'OK', 'NONE', 'NULL', '0X0', '00', '0X00'];
const goodName = /(?:^| )(?:valid|ok|ready|good|healthy|measuring|warm|warmed up|gultig|bereit|valide|pret|valido|pronto|listo)$/;
const badName =
  /(?:^| )(?:err|error|fault|invalid|failed|fail|warmup|warming|warming up|warm up|heating up|(?:err|error|fault) ?code|errcode)$/;
const wordName = /(?:^| )(?:status|state|stat|st|quality|flag)$/;
const goodWords = ['OK', 'VALID', 'GOOD', 'NORMAL', 'MEASURING', 'MEAS', 'RUN', 'READY'];
const ofWarmth = /warm|ready|heating|bereit|pret|pronto|listo/;
/** what a flag of all values may be the flag of */
const ofAll =
  /^(?: |is|data|readings?|samples?|measurements?|meas|values?|sensors?|status|state|meta|all|gas|flue|analy[sz]er|instrument|probe|device|system|sys|header|info)*$/;
/** share of the lines that carry the flag */
const SHARE = 0.5;

const textsOf = ({ texts }: Column): string[] =>
  texts.map((text) => text.trim().replace(/^"|"$/g, '').toUpperCase()).filter((text) => text !== '');

/** '0.05' or '2' beside one value, never nought: how far it may be off. A code of an error is whole, and is nought where there is none. */
function isMeasure(said: readonly string[], isOfOne: boolean): boolean {
  const isSwitch = said.every((text) => text === '0' || text === '1');
  const isNever = isOfOne && !isSwitch && said.every((text) => /^\d+$/.test(text) && !falsy.includes(text));
  return isNever || said.some((text) => /^\d*[.,]\d+$/.test(text));
}

/** '0, 1, 2, 3': errors that are counted go up and never come back to nought. */
function isCount(said: readonly string[]): boolean {
  if (!said.every((text) => /^\d+$/.test(text))) return false;
  const isBack = said.some((text, at) => falsy.includes(text) && at > 0 && !falsy.includes(said[at - 1] ?? ''));
  return !isBack && new Set(said.filter((text) => !falsy.includes(text))).size > 1;
}

/** '0000', 'E00', 'no error': nothing is wrong, however a board writes it. */
const isNone = (text: string): boolean =>
  falsy.includes(text) ||
  /^(?:0X|E|ERR|ERROR|FAULT)?[-:.# ]?0+$/.test(text) ||
  /^(?:NO ?(?:ERR|ERROR|FAULT)S?|CLEAR|NORMAL|GOOD|-+)$/.test(text);
const plainFault = /TIME ?OUT|FAIL|DISCONNECT|MISSING|NOT FOUND|INVALID/;
/**
 * A text that nobody knows says nothing: it has been seen how the column says that all is well, or what it says is plainly a fault. Of one value both
 * have to be seen: a number that comes for the first time with a high value would take it away.
 */
function isUnderstood(said: readonly string[], isOfOne: boolean): boolean {
  if (said.some(isNone)) return !isOfOne || said.some((text) => !isNone(text)) || said.every((text) => !/\d/.test(text));
  return said.every(
    (text) =>
      truthy.includes(text) ||
      /^[1-9]\d{0,2}$/.test(text) ||
      plainFault.test(text) ||
      instrumentState(text) !== undefined ||
      absentReason(text) !== undefined,
  );
}

/** What stands in the column where the values count, and what the rest means; undefined where it is no such column. */
function saysOf(column: Column, name: string, rows: number, isOfOne: boolean): Pick<RecipeFlag, 'good' | 'means'> | undefined {
  const said = textsOf(column);
  const kinds = new Set(said);
  if (kinds.size === 0) return undefined;
  const means = ofWarmth.test(name) ? 'warming-up' : 'error';
  if (goodName.test(name))
    return said.length >= rows * SHARE && [...kinds].every((kind) => truthy.includes(kind) || falsy.includes(kind) || kind === 'V')
      ? { good: truthy, means }
      : undefined;
  if (badName.test(name)) {
    if (isCount(said) || isMeasure(said, isOfOne) || !isUnderstood(said, isOfOne)) return undefined;
    return { good: [...new Set([...falsy, ...said.filter(isNone)])].slice(0, 32), means };
  }
  if (!isOfOne || !wordName.test(name) || column.statistics !== undefined) return undefined;
  const known = [...kinds].map((kind) => instrumentState(kind) ?? absentReason(kind));
  const good = [...kinds].filter((kind) => instrumentState(kind) === 'measuring');
  // while it warms up it has not said yet how it calls a value
  return known.every((one) => one !== undefined) ? { good: [...new Set([...good, ...goodWords])], means } : undefined;
}

const channelsByRole: Partial<Record<Role, ChannelId>> = channelOfRole;

/** @param fields what the recipe reads: a flag of anything else says nothing about it */
export function findFlags({ columns, shape, rows }: Table, fields: readonly Pick<RecipeField, 'channel' | 'at'>[]): RecipeFlag[] {
  if (shape.kind !== 'json' && shape.kind !== 'keyed' && shape.kind !== 'columns') return [];
  const taken = new Set(fields.map(({ at }) => at));
  return columns
    .flatMap((column): RecipeFlag[] => {
      const name = words(shape.kind === 'json' && typeof column.at === 'string' ? column.at.replaceAll('.', ' ') : column.name);
      const rest = name
        .replace(goodName, '')
        .replace(badName, '')
        .replace(wordName, '')
        .replace(/(?:^| )is$/, '')
        .trim();
      if (name === '' || rest === name || taken.has(column.at)) return [];
      const { roles } = nameMeaning(rest);
      const role = (Object.keys(roles) as Role[]).find((one) => (roles[one] ?? 0) >= 1.5 && channelsByRole[one] !== undefined);
      const channel = role === undefined || ofAll.test(rest) ? undefined : channelsByRole[role];
      if (channel === undefined ? !ofAll.test(rest) : !fields.some((field) => field.channel === channel)) return [];
      const says = saysOf(column, name, rows, channel !== undefined);
      if (says === undefined) return [];
      const place = { at: column.at, ...(shape.kind === 'columns' && column.name !== '' ? { name: column.name.slice(0, 80) } : {}) };
      return [{ ...place, ...(channel === undefined ? {} : { channel }), ...says }];
    })
    .slice(0, 16);
}
