import { useCallback, useEffect, useState } from 'react';
import { amounts, type AmountName, type PartName } from '../../../shared/burner/parts.ts';
import type { Output } from '../../../shared/ipc/contract.ts';
import { useParts } from '../../app-parts.ts';

export type BurnerParts = Output<'simulator.parts'>;

const READ_EVERY_MS = 1000;

/**
 * How every part of the simulated burner stands, read back each second: a scenario, a visit or another window may have moved it. Amounts that are
 * on their way keep the place they were sent to in `wished` until they are there.
 */
export function useBurnerParts(runId: string): {
  parts: BurnerParts | undefined;
  wished: Partial<Record<AmountName, number>>;
  set: (part: PartName, value: number | boolean | string, overS: number) => void;
} {
  const { client, actions } = useParts();
  const [parts, setParts] = useState<BurnerParts>();
  const [wished, setWished] = useState<Partial<Record<AmountName, number>>>({});
  const take = useCallback((found: BurnerParts): void => {
    setParts(found);
    setWished((before) => {
      const open = (Object.entries(before) as [AmountName, number][]).filter(
        ([name, value]) => Math.abs(found.amounts[name] - value) > (amounts[name].high - amounts[name].low) / 500,
      );
      return open.length === Object.keys(before).length ? before : Object.fromEntries(open);
    });
  }, []);
  const read = useCallback(
    () => client.call('simulator.parts', { runId }).then((found) => (found.ok ? take(found.value) : undefined)),
    [client, runId, take],
  );
  useEffect(() => {
    let isOpen = true;
    const look = (): void =>
      void client.call('simulator.parts', { runId }).then((found) => {
        if (isOpen && found.ok) take(found.value);
      });
    look();
    const again = setInterval(look, READ_EVERY_MS);
    return () => {
      isOpen = false;
      clearInterval(again);
    };
  }, [client, runId, take]);
  const set = useCallback(
    (part: PartName, value: number | boolean | string, overS: number): void => {
      if (typeof value === 'number') setWished((before) => ({ ...before, [part]: value }));
      void actions.ask('simulator.part', { runId, part, value, ...(overS > 0 ? { overS } : {}) }).then(read);
    },
    [actions, runId, read],
  );
  return { parts, wished, set };
}
