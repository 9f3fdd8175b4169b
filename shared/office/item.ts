/**
 * What laptops of one workshop share: items that never change. An item is one state of one thing (a signed visit, an appliance, ...); a later state of the
 * same thing is another item under the same id. What a laptop knows is all items it has met, merged; the order in which they came does not matter.
 */
import { z } from 'zod';
import { BenchTest } from '../bench/bench-test.ts';
import { Instrument } from '../bench/instrument.ts';
import { FiguresCard } from '../geometry/figures-card.ts';
import { ApplianceKnowledge } from '../measurement/knowledge.ts';
import { err, ok, type Result } from '../result.ts';
import { Appliance } from '../tuning/visit/appliance.ts';
import { ApplianceEdit } from '../tuning/visit/appliance-edits.ts';
import { Visit } from '../tuning/visit/visit.ts';
import { WallMs } from '../wall-clock.ts';
import { defined } from '../defined.ts';

const ITEM_FORMAT = 'flueside-item';
/** Raised when an item is written that this version could not read. 2: visits with the id of their instrument beside its name. */
export const ITEM_VERSION = 2;
/** Only what changed has the higher one: the text of every other item, and so its name, stays as it was. */
const versionOf = (kind: ItemKind) => (kind === 'visit' ? ITEM_VERSION : 1);

export const itemKinds = ['visit', 'appliance', 'instrument', 'bench-test', 'figures-card', 'knowledge', 'tombstone'] as const;
export type ItemKind = (typeof itemKinds)[number];

const id = z.string().min(1).max(100);
export const ItemHash = z.string().regex(/^[0-9a-f]{64}$/);
const head = { format: z.literal(ITEM_FORMAT), version: z.literal(1), id };
/** Earlier states of the same document that its author had seen, oldest first: what this one takes the place of. */
export const MOST_EARLIER = 100;
const earlier = z.array(ItemHash).max(MOST_EARLIER);

/** The person was removed from this appliance. `deleted`: the whole entry was, where no visit belongs to it. */
export const Tombstone = z.strictObject({ wallMs: WallMs, by: z.string().min(1).max(120), deleted: z.literal(true).optional() });
export type Tombstone = z.infer<typeof Tombstone>;

/** A visit has the number of the laptop that signed it; each laptop counts its own. */
export const OfficeItem = z.discriminatedUnion('kind', [
  z.strictObject({ ...head, version: z.literal([1, ITEM_VERSION]), kind: z.literal('visit'), visit: Visit }),
  z.strictObject({ ...head, kind: z.literal('appliance'), appliance: Appliance, edits: z.array(ApplianceEdit).max(20_000) }),
  z.strictObject({ ...head, kind: z.literal('instrument'), earlier, instrument: Instrument }),
  z.strictObject({ ...head, kind: z.literal('bench-test'), test: BenchTest }),
  z.strictObject({ ...head, kind: z.literal('figures-card'), earlier, card: FiguresCard }),
  z.strictObject({ ...head, kind: z.literal('knowledge'), known: ApplianceKnowledge }),
  z.strictObject({ ...head, kind: z.literal('tombstone'), tombstone: Tombstone }),
]);
export type OfficeItem = z.infer<typeof OfficeItem>;
export type ItemOf<K extends ItemKind> = Extract<OfficeItem, { kind: K }>;

type Body<T> = T extends unknown ? Omit<T, 'format' | 'version'> : never;
export const newItem = (body: Body<OfficeItem>): OfficeItem =>
  OfficeItem.parse({ format: ITEM_FORMAT, version: versionOf(body.kind), ...body });

/** The one text of an item: the same content gives the same text on every laptop. */
export const itemText = (item: OfficeItem): string => JSON.stringify(OfficeItem.parse(item));

export type ItemRefusal = 'foreign' | 'newer' | 'damaged';

/** Reads what came from an office; anything may stand there. */
export function readItem(value: unknown): Result<OfficeItem, ItemRefusal> {
  const claim = z.object({ format: z.literal(ITEM_FORMAT), version: z.number() }).safeParse(value);
  if (!claim.success) return err('foreign');
  if (claim.data.version > ITEM_VERSION) return err('newer');
  const read = OfficeItem.safeParse(value);
  if (!read.success || !belongsTogether(read.data)) return err('damaged');
  return ok(read.data);
}

/** Only signed visits and signed tests are shared, under their own ids. */
function belongsTogether(item: OfficeItem): boolean {
  if (item.kind === 'visit') return item.visit.id === item.id && item.visit.signature !== undefined;
  return item.kind !== 'bench-test' || item.test.signature !== undefined;
}

/** What an item is found by, without reading it. */
export type ItemFacts = {
  readonly applianceId?: string;
  /** the day of the work, or 0 for what lasts */
  readonly wallMs: number;
  readonly number?: number;
  readonly appliance?: {
    readonly name: string;
    readonly place: string;
    readonly owner: string;
    readonly serial: string;
    readonly due?: string;
  };
  /** when it was last changed: of two states of one appliance a list shows the later one */
  readonly changedMs: number;
  /** removals of the person that this state knows of */
  readonly removals: readonly string[];
};

/** One removal, told from another. */
export const removalKey = ({ wallMs, by }: Pick<Tombstone, 'wallMs' | 'by'>): string => `${wallMs}|${by}`;

export function factsOf(item: OfficeItem): ItemFacts {
  const lasting = { wallMs: 0, changedMs: 0, removals: [] };
  switch (item.kind) {
    case 'visit': {
      const { applianceId, startedWallMs, number } = item.visit;
      return { ...lasting, ...defined({ applianceId }), wallMs: startedWallMs, number };
    }
    case 'appliance': {
      const { name, place = '', owner = '', serial = '', nextDue } = item.appliance;
      return {
        ...lasting,
        applianceId: item.id,
        appliance: { name, place, owner, serial, ...defined({ due: nextDue }) },
        changedMs: Math.max(0, ...item.edits.map(({ wallMs }) => wallMs)),
        removals: item.edits.filter(isRemoval).map(removalKey),
      };
    }
    case 'knowledge':
    case 'tombstone':
      return { ...lasting, applianceId: item.id };
    case 'bench-test':
      return { ...lasting, wallMs: item.test.startedWallMs };
    default:
      return lasting;
  }
}

/** The edit that a removal of the person leaves behind. */
export const isRemoval = ({ path, after }: ApplianceEdit): boolean => path.length === 1 && path[0] === 'pseudonymised' && after === true;
