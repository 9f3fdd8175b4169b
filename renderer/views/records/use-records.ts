import { useCallback, useEffect, useState } from 'react';
import type { CallInput, CommandName, Output } from '../../../shared/ipc/contract.ts';
import type { Problem } from '../../../shared/problem.ts';
import { useParts } from '../../app-parts.ts';

/** What a command answers, asked again when its input or the records change. The last answer stays until the next has come. */
export function useAnswer<K extends CommandName>(name: K, input: CallInput<K> | undefined): Output<K> | undefined {
  const { client, store } = useParts();
  const [answer, setAnswer] = useState<{ key: string; value: Output<K> }>();
  const [round, setRound] = useState(0);
  const key = input === undefined ? undefined : JSON.stringify(input);
  useEffect(() => client.on('records.changed', () => setRound((count) => count + 1)), [client]);
  useEffect(() => {
    if (key === undefined) return undefined;
    let isHere = true;
    void client.call(name, JSON.parse(key) as CallInput<K>).then((made) => {
      if (!isHere) return;
      if (made.ok) setAnswer({ key, value: made.value });
      // what was deleted a moment ago is asked for once more before the page has gone: nobody needs to hear of that
      else if (made.error.code !== 'not-found') store.getState().commandFailed(made.error);
    });
    return () => {
      isHere = false;
    };
  }, [client, store, name, key, round]);
  return key === undefined ? undefined : answer?.value;
}

/**
 * As `useAnswer`, for what a page is about: a refusal is shown in its place instead of a notice over everything.
 *
 * @param keepLast the last answer stays until the next has come, for a list that is searched
 */
export function useAnswerOrProblem<K extends CommandName>(
  name: K,
  input: CallInput<K> | undefined,
  { keepLast = false }: { keepLast?: boolean } = {},
): { value: Output<K> } | { problem: Problem } | undefined {
  const { client } = useParts();
  const [answer, setAnswer] = useState<{ key: string; got: { value: Output<K> } | { problem: Problem } }>();
  const [round, setRound] = useState(0);
  const key = input === undefined ? undefined : JSON.stringify(input);
  useEffect(() => client.on('records.changed', () => setRound((count) => count + 1)), [client]);
  useEffect(() => {
    if (key === undefined) return undefined;
    let isHere = true;
    void client.call(name, JSON.parse(key) as CallInput<K>).then((made) => {
      if (isHere) setAnswer({ key, got: made.ok ? { value: made.value } : { problem: made.error } });
    });
    return () => {
      isHere = false;
    };
  }, [client, name, key, round]);
  return answer === undefined || (answer.key !== key && !keepLast) ? undefined : answer.got;
}

/** Typed text, handed on when the person pauses for a moment. */
export function useCalm(text: string, ms = 120): string {
  const [calm, setCalm] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setCalm(text), ms);
    return () => clearTimeout(timer);
  }, [text, ms]);
  return calm;
}

/** A list that grows on demand. */
export function useGrowing(): { limit: number; grow: () => void } {
  const [limit, setLimit] = useState(100);
  return { limit, grow: useCallback(() => setLimit((now) => Math.min(500, now + 100)), []) };
}
