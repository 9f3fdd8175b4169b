/**
 * A channel that comes by its name after the recipe: a board sends CO only once its cell is warm. Without a look at the new key it would be missing for
 * the whole run. What the recipe reads already stays as it is.
 */
import { LEAST_LINES } from '../lines/learning/proposal.ts';
import { keysByName, namesAnother } from '../lines/reading/late-keys.ts';
import { createLineReader } from '../lines/reading/read-line.ts';
import { defined } from '../defined.ts';
import type { ChannelId } from '../measurement/channel.ts';
import { checkRecipe } from '../measurement/check-recipe.ts';
import type { StampedLine } from '../measurement/line.ts';
import type { LineRecipe } from '../measurement/recipe.ts';
import { CONFIDENT, judgeAtOnce, type Judgement, type LookAtLines } from './propose.ts';

/** looks at so many readings that have the new key */
const LOOKS = [LEAST_LINES, 15, 30, 60];
/** fewer decide no question */
const ASKS_FROM = 15;
/** bounded, whatever noise comes */
const MOST_KNOWN = 400;
const MOST_LATE = 20;

type Asked = Exclude<Judgement, { kind: 'refuse' }>;

export interface LateChannels {
  readonly recipe: LineRecipe;
  push(line: StampedLine): void;
}

/**
 * @param known keys that were decided about with the recipe
 * @param linesBefore lines that a person had seen when the recipe was chosen: their keys were left out on purpose; none at the start of a run
 * @param told `adopt`: the recipe with the new channel, to be used from now on; `ask`: a person has to say what the new key is
 */
export function createLateChannels(parts: {
  readonly recipe: LineRecipe;
  readonly known: readonly string[] | undefined;
  readonly linesBefore: readonly StampedLine[];
  readonly look?: LookAtLines | undefined;
  readonly told: (judgement: Asked) => void;
}): LateChannels {
  const { recipe, look = judgeAtOnce } = parts;
  const byName = keysByName(recipe);
  const { shape } = recipe;
  const gather = 'gather' in shape ? shape.gather : undefined;
  const linesEach = gather === undefined ? 1 : gather.order.length + 1;
  const channels = new Set<ChannelId>(recipe.fields.map(({ channel }) => channel));
  const known = new Set<string>();
  const late = new Set<string>();
  let lines: StampedLine[] = [];

  const isLate = (at: unknown): boolean => typeof at === 'string' && byName !== undefined && late.has(byName.keyAt(at));
  const lookNow = (count: number): void => {
    const looked = lines;
    look({ lines: looked, least: CONFIDENT }, (judgement) => {
      if (judgement === undefined || judgement.kind === 'refuse') return;
      const found = withLate(recipe, judgement, looked, isLate);
      if (found !== undefined && (found.kind === 'adopt' || count >= ASKS_FROM)) parts.told(found);
    });
  };
  const learnKnown = (keys: readonly string[]): void => {
    for (const key of keys) if (known.size < MOST_KNOWN) known.add(key);
  };

  if (byName !== undefined) {
    learnKnown([...(parts.known ?? []), ...recipe.fields.flatMap(({ at }) => (typeof at === 'string' ? [at] : []))].map(byName.keyAt));
    for (const { bytes } of parts.linesBefore) learnKnown(byName.keysOf(bytes));
  }
  return {
    recipe,
    push(line) {
      if (byName === undefined || line.cutBytes !== undefined) return;
      const keys = byName.keysOf(line.bytes);
      for (const key of keys)
        if (!known.has(key) && !late.has(key)) {
          if (!namesAnother(key, channels)) learnKnown([key]);
          else if (late.size < MOST_LATE) late.add(key);
        }
      if (late.size === 0 || (gather === undefined && !keys.some((key) => late.has(key)))) return;
      lines = [...lines, line];
      const count = lines.length / linesEach;
      if (LOOKS.includes(count)) lookNow(count);
      if (count < (LOOKS.at(-1) ?? 0)) return;
      // nobody takes it for a channel: it is not looked at again
      learnKnown([...late]);
      late.clear();
      lines = [];
    },
  };
}

/** The newest value of each channel in these lines; absent ones are there without. */
function readBy(recipe: LineRecipe, lines: readonly StampedLine[]): Map<string, number | undefined> {
  const reader = createLineReader(recipe);
  const newest = new Map<string, number | undefined>();
  for (const line of lines) {
    const read = reader.read(line);
    if (read.kind !== 'sample') continue;
    for (const channel of Object.keys(read.sample.absent ?? {})) newest.set(channel, newest.get(channel));
    for (const [channel, value] of Object.entries(read.sample.values)) newest.set(channel, value);
  }
  return newest;
}

/** The recipe with what the look found at the new keys; undefined where that is nothing, or not to be read beside the rest. */
function withLate(
  recipe: LineRecipe,
  { kind, proposal, others }: Asked,
  lines: readonly StampedLine[],
  isLate: (at: unknown) => boolean,
): Asked | undefined {
  const isRead = (channel: unknown): boolean => recipe.fields.some((field) => field.channel === channel);
  const isGathered = 'gather' in recipe.shape && recipe.shape.gather !== undefined;
  // One value a line, and with the new lines it looks like another shape: that one as a whole, or none.
  const isOther = isGathered && proposal.recipe.shape.kind !== recipe.shape.kind;
  if (isOther && kind !== 'adopt') return undefined;
  const found = proposal.columns.filter(
    ({ at, taken }) => taken !== undefined && taken !== 'time' && !isRead(taken) && (isOther || isLate(at)),
  );
  const sure = found.filter(({ sureness }) => sureness === 'sure');
  const taken = sure.length > 0 ? sure : found;
  const fields = proposal.recipe.fields.filter(({ at }) => taken.some((column) => column.at === at));
  if (fields.length === 0) return undefined;
  const isNew = (channel: unknown): boolean => fields.some((field) => field.channel === channel);
  const newFlags = (proposal.recipe.flags ?? []).filter(({ channel }) => isNew(channel));
  const checked = checkRecipe(
    isOther
      ? { ...proposal.recipe, name: recipe.name, framing: recipe.framing, ...defined({ coBasisKnown: recipe.coBasisKnown }) }
      : {
          ...recipe,
          shape: isGathered ? proposal.recipe.shape : recipe.shape,
          fields: [...recipe.fields, ...fields],
          sentinels: [...recipe.sentinels, ...proposal.recipe.sentinels.filter(({ channel }) => isNew(channel))],
          ...(newFlags.length > 0 && { flags: [...(recipe.flags ?? []), ...newFlags].slice(0, 16) }),
        },
  );
  if (!checked.ok) return undefined;
  const [before, after] = [readBy(recipe, lines), readBy(checked.value, lines)];
  if (![...before].every(([channel, value]) => after.has(channel) && after.get(channel) === value)) return undefined;
  if (!fields.every(({ channel }) => after.has(channel))) return undefined;
  const columns = proposal.columns.map((column) => {
    const field = checked.value.fields.find(({ at }) => at === column.at);
    if (field === undefined) return column.taken === 'time' ? column : { ...column, taken: undefined, sureness: 'none' as const };
    return isNew(field.channel) ? column : { ...column, taken: field.channel, unit: field.unit, sureness: 'sure' as const };
  });
  return { kind: sure.length > 0 ? 'adopt' : 'ask', proposal: { ...proposal, recipe: checked.value, columns }, others };
}
