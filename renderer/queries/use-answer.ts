/** Reads: what a command answers, as a hook. A new answer takes the place of the last one; nobody writes the effect again. */
import { useCallback, useEffect, useState } from 'react';
import type { CallInput, CommandName, Output } from '../../shared/ipc/contract.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Result } from '../../shared/result.ts';
import { useParts } from '../app-parts.ts';

type Asking = {
  /** asked again when the host says that records changed; `once`: only when the input changes */
  readonly when?: 'records-change' | 'once';
  /** asked again when it changes, for what the input does not say: the revision of a document */
  readonly version?: string | number;
  /** asked again so often: what the host still measures */
  readonly everyMs?: number | undefined;
};

/** Asks, and hands the answer on unless the page has gone or asks for something else by then. */
function useAsking<K extends CommandName>(
  name: K,
  key: string | undefined,
  take: (made: Result<Output<K>, Problem>, key: string) => void,
  { when = 'records-change', version, everyMs }: Asking,
): void {
  const { client } = useParts();
  const [round, setRound] = useState(0);
  useEffect(() => (when === 'once' ? undefined : client.on('records.changed', () => setRound((count) => count + 1))), [client, when]);
  useEffect(() => {
    if (key === undefined) return undefined;
    let isHere = true;
    const ask = (): void =>
      void client.call(name, JSON.parse(key) as CallInput<K>).then((made) => {
        if (isHere) take(made, key);
      });
    ask();
    const timer = everyMs === undefined ? undefined : setInterval(ask, everyMs);
    return () => {
      isHere = false;
      clearInterval(timer);
    };
  }, [client, name, key, round, version, take, everyMs]);
}

const keyOf = (input: unknown): string | undefined => (input === undefined ? undefined : JSON.stringify(input));

/**
 * What a command answers. The last answer stays until the next has come; a refusal is a notice over everything.
 *
 * @param input undefined: nothing is asked, and there is no answer
 */
export function useAnswer<K extends CommandName>(name: K, input: CallInput<K> | undefined, asking: Asking = {}): Output<K> | undefined {
  const { store } = useParts();
  const [answer, setAnswer] = useState<Output<K>>();
  const key = keyOf(input);
  const take = useCallback(
    (made: Result<Output<K>, Problem>): void => {
      if (made.ok) setAnswer(made.value);
      // what was deleted a moment ago is asked for once more before the page has gone: nobody needs to hear of that
      else if (made.error.code !== 'not-found') store.getState().commandFailed(made.error);
    },
    [store],
  );
  useAsking(name, key, take, asking);
  return key === undefined ? undefined : answer;
}

/**
 * As `useAnswer`, for what a page is about: a refusal is shown in its place instead of a notice over everything.
 *
 * @param keepLast the last answer stays until the next has come, for a list that is searched
 */
export function useAnswerOrProblem<K extends CommandName>(
  name: K,
  input: CallInput<K> | undefined,
  { keepLast = false, ...asking }: Asking & { readonly keepLast?: boolean } = {},
): { value: Output<K> } | { problem: Problem } | undefined {
  const [answer, setAnswer] = useState<{ key: string; got: { value: Output<K> } | { problem: Problem } }>();
  const key = keyOf(input);
  const take = useCallback(
    (made: Result<Output<K>, Problem>, of: string): void =>
      setAnswer({ key: of, got: made.ok ? { value: made.value } : { problem: made.error } }),
    [],
  );
  useAsking(name, key, take, asking);
  return answer === undefined || (answer.key !== key && !keepLast) ? undefined : answer.got;
}
