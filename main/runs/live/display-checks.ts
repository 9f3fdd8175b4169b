/** Which columns of which device a person has compared with its display. Kept over restarts; anything unreadable counts as not compared. */
import { createHash } from 'node:crypto';
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';

const Checks = z.array(z.object({ deviceId: z.string(), columns: z.string() })).max(1000);

export interface DisplayChecks {
  load(): Promise<void>;
  /** before the first answer of `load` nothing is known yet: it is awaited before a port is opened */
  isKnown(deviceId: string, recipe: LineRecipe): boolean;
  remember(deviceId: string, recipe: LineRecipe): Promise<void>;
  forget(deviceId: string): Promise<void>;
}

/** What the comparison was about: where each figure comes from and its unit; not the name of the recipe or the lines it leaves out. */
const columnsOf = ({ shape, fields }: LineRecipe): string =>
  createHash('sha256')
    .update(
      JSON.stringify([
        shape.kind,
        [...fields]
          .sort((a, b) => a.channel.localeCompare(b.channel))
          .map(({ channel, at, unit, scale, offset }) => [channel, at, unit, scale, offset]),
      ]),
    )
    .digest('hex');

export function createDisplayChecks(path: string): DisplayChecks {
  let known: z.infer<typeof Checks> = [];
  const keep = async (next: z.infer<typeof Checks>): Promise<void> => {
    known = next.slice(-1000);
    await mkdir(dirname(path), { recursive: true });
    await writeFile(`${path}.new`, `${JSON.stringify(known, undefined, 2)}\n`, { mode: 0o600, flush: true });
    await rename(`${path}.new`, path);
  };
  let loading: Promise<void> | undefined;
  return {
    load: () =>
      (loading ??= readFile(path, 'utf8')
        .then((text) => Checks.parse(JSON.parse(text)))
        .then(
          (read) => void (known = read),
          () => undefined,
        )),
    isKnown: (deviceId, recipe) => {
      const columns = columnsOf(recipe);
      return known.some((one) => one.deviceId === deviceId && one.columns === columns);
    },
    remember: (deviceId, recipe) =>
      keep([
        ...known.filter((one) => one.deviceId !== deviceId || one.columns !== columnsOf(recipe)),
        { deviceId, columns: columnsOf(recipe) },
      ]),
    forget: (deviceId) => keep(known.filter((one) => one.deviceId !== deviceId)),
  };
}
