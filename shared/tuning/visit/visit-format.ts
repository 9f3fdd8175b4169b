/** Visits of format 1 held the typed name of the instrument where its id is now. */
import { defined } from '../../defined.ts';

type Data = Readonly<Record<string, unknown>>;

const isRecord = (value: unknown): value is Data => typeof value === 'object' && value !== null && !Array.isArray(value);

/** The edits of a visit with those of the field `from` as edits of `to`. */
const renamed = (edits: unknown, from: string, to: string): unknown =>
  Array.isArray(edits)
    ? edits.map((edit: unknown) =>
        isRecord(edit) && Array.isArray(edit['path']) && edit['path'][0] === from
          ? { ...edit, path: [to, ...(edit['path'] as unknown[]).slice(1)] }
          : edit,
      )
    : edits;

/** A visit of format 1 as one of format 2; anything else as it is. What was signed says so: its hash is that of format 1. */
export function inFormat2(raw: unknown): unknown {
  if (!isRecord(raw) || raw['format'] !== 1) return raw;
  const { instrumentId: instrumentName, edits, signature, ...rest } = raw;
  return {
    ...rest,
    format: 2,
    ...defined({ instrumentName }),
    edits: renamed(edits, 'instrumentId', 'instrumentName'),
    ...defined({ signature: signature !== undefined ? (isRecord(signature) ? { ...signature, format: 1 } : signature) : undefined }),
  };
}

/** A checked body of format 2 as it stood in format 1, field by field in the same order. */
export function inFormat1(body: Data): Data {
  const { edits } = body;
  const fields = Object.entries(body).flatMap(([key, value]): [string, unknown][] => {
    if (key === 'instrumentId') return [];
    return [[key === 'instrumentName' ? 'instrumentId' : key, value]];
  });
  return { ...Object.fromEntries(fields), format: 1, edits: renamed(edits, 'instrumentName', 'instrumentId') };
}
