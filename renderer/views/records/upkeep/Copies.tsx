import { useCallback, useEffect, useState } from 'react';
import { formatNumber, withUnit } from '../../../../shared/format/quantity.ts';
import type { Output } from '../../../../shared/ipc/contract.ts';
import { copiesWords } from '../../../../shared/words/records/copies.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { timeHere } from '../due.ts';
import { Sure } from '../Sure.tsx';
import '../records.css';

const words = copiesWords;
type Copy = Output<'copies.list'>['copies'][number];

/** What still holds an earlier state of everything: said, so that nobody thinks a deletion reached it. */
export function Copies({ round, busy, restore }: { round: number; busy: boolean; restore: (name: string) => void }) {
  const { actions, client } = useParts();
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [copies, setCopies] = useState<readonly Copy[]>();
  const [asks, setAsks] = useState<Copy>();
  const read = useCallback((): void => {
    void client.call('copies.list', {}).then((answer) => setCopies(answer.ok ? answer.value.copies : undefined));
  }, [client]);
  useEffect(read, [read, round]);
  const remove = async (name: string): Promise<void> => {
    setAsks(undefined);
    await actions.ask('copies.remove', { name });
    read();
  };
  if (copies === undefined) return null;
  return (
    <section>
      <h2>{words.title}</h2>
      <p>{copies.length === 0 ? words.none : words.about}</p>
      {copies.length > 0 && (
        <table className="tight" aria-label={words.title}>
          <thead>
            <tr>
              {Object.values(words.columns).map((column) => (
                <th key={column} scope="col">
                  {column}
                </th>
              ))}
              <th scope="col">
                <span className="hidden-text">{words.remove}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {copies.map((copy) => (
              <tr key={copy.name}>
                <td>
                  {words.kinds[copy.kind]}
                  <br />
                  <span className="second small">{copy.name}</span>
                </td>
                <td className="unwrapped">{timeHere(copy.madeWallMs)}</td>
                <td className="unwrapped">{sizeText(copy.bytes)}</td>
                <td className="right">
                  {copy.kind === 'backup' && (
                    <button
                      type="button"
                      className="button"
                      disabled={!mayChange || busy}
                      aria-label={words.restoreOf(copy.name)}
                      onClick={() => restore(copy.name)}
                    >
                      {words.restore}
                    </button>
                  )}
                  <button
                    type="button"
                    className="button"
                    disabled={!mayChange}
                    aria-label={words.removeOf(copy.name)}
                    onClick={() => setAsks(copy)}
                  >
                    {words.remove}
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {asks !== undefined && (
        <Sure
          title={words.sure(words.kinds[asks.kind])}
          about={words.sureAbout(asks.name)}
          yes={words.remove}
          run={() => remove(asks.name)}
          close={() => setAsks(undefined)}
        />
      )}
    </section>
  );
}

const sizeText = (bytes: number): string =>
  bytes < 1e6 ? withUnit(formatNumber(Math.ceil(bytes / 1000), 0), 'kB') : withUnit(formatNumber(bytes / 1e6, 1), 'MB');
