import { Instrument } from './instrument.ts';

export type NamedInstrument = { readonly id: string; readonly instrument: Instrument };

/**
 * The instrument that a visit names: by id or, as people type it, by name or serial number. Two of the same name are none: better no
 * instrument than somebody else's.
 */
export function findInstrument(
  named: string,
  stored: readonly { readonly id: string; readonly body: unknown }[],
): NamedInstrument | undefined {
  const all = stored.flatMap(({ id, body }): NamedInstrument[] => {
    const instrument = Instrument.safeParse(body).data;
    return instrument === undefined ? [] : [{ id, instrument }];
  });
  const wanted = named.trim().toLowerCase();
  const fits = all.filter(({ instrument: { name, serial } }) => [name, serial].some((one) => one?.trim().toLowerCase() === wanted));
  return all.find(({ id }) => id === named) ?? (fits.length === 1 ? fits[0] : undefined);
}
