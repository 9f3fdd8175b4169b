import { defined } from '../defined.ts';
import { Instrument } from './instrument.ts';

export type NamedInstrument = { readonly id: string; readonly instrument: Instrument };
/** What a visit says of its instrument. */
export type Named = { readonly instrumentId?: string | undefined; readonly instrumentName?: string | undefined };
/** What a signed visit keeps of its instrument. */
type Signed = { readonly name: string; readonly serial?: string | undefined; readonly certificateUntil?: string | undefined };

/** The instrument as it was on the day of signing, where the visit says so; what it does not say is as the document has it now. */
export function instrumentThen(now: Instrument | undefined, signed: Signed | undefined): Instrument | undefined {
  if (signed === undefined) return now;
  const { serial: _serial, certificateUntil: _until, ...rest } = now ?? { format: 1 as const, cells: [] };
  const { name, serial, certificateUntil } = signed;
  return { ...rest, name, ...defined({ serial, certificateUntil }) };
}

/**
 * The instrument of a visit: by its id, whatever it is called by now; without an id by name or serial number, as people type it. Two of the
 * same name are none, and one that was deleted is none: better no instrument than somebody else's.
 */
export function findInstrument(
  { instrumentId, instrumentName }: Named,
  stored: readonly { readonly id: string; readonly body: unknown }[],
): NamedInstrument | undefined {
  const all = stored.flatMap(({ id, body }): NamedInstrument[] => {
    const instrument = Instrument.safeParse(body).data;
    return instrument === undefined ? [] : [{ id, instrument }];
  });
  if (instrumentId !== undefined) return all.find(({ id }) => id === instrumentId);
  const wanted = instrumentName?.trim().toLowerCase();
  if (wanted === undefined) return undefined;
  const fits = all.filter(({ instrument: { name, serial } }) => [name, serial].some((one) => one?.trim().toLowerCase() === wanted));
  return fits.length === 1 ? fits[0] : undefined;
}
