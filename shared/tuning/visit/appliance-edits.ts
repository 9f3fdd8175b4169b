/** What was changed of an appliance: by whom, when, and what stood before. */
import { z } from 'zod';
import { Appliance } from './appliance.ts';
import { Edit } from './visit.ts';
import { defined } from '../../defined.ts';

/** As a change of a visit. With neither `before` nor `after`, what stood there went with the person who was taken out. */
export const ApplianceEdit = Edit.pick({ wallMs: true, by: true, path: true, before: true, after: true });
export type ApplianceEdit = z.infer<typeof ApplianceEdit>;

type Made = Pick<ApplianceEdit, 'wallMs' | 'by'>;
type Path = readonly string[];

/** Instead of a field: the appliance was not typed in here, it came with visits from another computer. */
const MOVED_IN = 'movedIn';
export const movedInEdit = (made: Made): ApplianceEdit => ({ ...made, path: [MOVED_IN], after: true });
export const personOutEdit = (made: Made): ApplianceEdit => ({ ...made, path: ['pseudonymised'], after: true });

/**
 * One line for each field that differs. Libraries that compare objects walk lists and moved items as well, which no appliance has, and know
 * nothing of its schema; this walks the schema, so that a field is never forgotten and nothing that is no field gets in.
 */
export const applianceEdits = (before: Appliance, after: Appliance, made: Made): ApplianceEdit[] =>
  applianceFields.flatMap((path) => {
    const [was, is] = [leafAt(before, path), leafAt(after, path)];
    if (was === is) return [];
    return [{ ...made, path: [...path], ...defined({ before: was, after: is }) }];
  });

/** `format` says how it is written, not what stands on the plate. */
export const applianceFields: readonly Path[] = leavesOf(Appliance, []).filter(([top]) => top !== 'format');

function leavesOf(schema: unknown, path: Path): Path[] {
  if (schema instanceof z.ZodOptional) return leavesOf(schema.unwrap(), path);
  if (!(schema instanceof z.ZodObject)) return [path];
  return Object.entries(schema.shape).flatMap(([key, inner]) => leavesOf(inner, [...path, key]));
}

export type Leaf = string | number | boolean | undefined;
export const leafAt = (body: unknown, path: Path): Leaf =>
  path.reduce<unknown>(
    (at, key) => (typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[key] : undefined),
    body,
  ) as Leaf;

/** Fields that tell who and where; they go when a person is taken out. */
const ofPerson: ReadonlySet<unknown> = new Set<keyof Appliance>(['name', 'place', 'owner', 'contact', 'notes', 'consent']);

/** A change whose words still tell who and where. */
export const tellsPerson = ({ path: [top], before, after }: ApplianceEdit): boolean =>
  ofPerson.has(top) && (before !== undefined || after !== undefined);

/** That something was changed, when and by whom stays; what it was goes. */
export function withoutPersonIn(edit: ApplianceEdit): ApplianceEdit {
  if (!ofPerson.has(edit.path[0])) return edit;
  const { before: _before, after: _after, ...rest } = edit;
  return rest;
}

/** What the appliance was called, where it stood and whose it was before: words to be looked for elsewhere. */
export const earlierTexts = (edits: readonly ApplianceEdit[], field: keyof Appliance): string[] =>
  edits.filter(({ path }) => path[0] === field).flatMap(({ before, after }) => [before, after].filter((one) => typeof one === 'string'));
