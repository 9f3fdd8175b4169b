import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import { headlineOf, roundResult } from '../../../../shared/bench/results/test-result.ts';
import { formatClock, formatDate } from '../../../../shared/format/duration.ts';
import { headlineText } from '../../../../shared/words/bench/bench-headline.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Dialog } from '../../../components/Dialog.tsx';
import { useBenchScreen } from '../use-bench.ts';
import '../bench.css';

const words = benchResult;

/** Earlier tests of this instrument, each with its result. */
export function EarlierDialog({ tests, close }: { tests: readonly { id: string; body: BenchTest }[]; close: () => void }) {
  const screen = useBenchScreen();
  return (
    <Dialog title={words.earlier} close={close}>
      <ul className="home-list-rows">
        {tests.map(({ id, body }, i) => {
          const last = body.rounds[body.rounds.length - 1];
          const headline = last === undefined ? undefined : headlineOf(roundResult(body, last).evaluation, body.limits);
          return (
            <li key={id}>
              <button
                type="button"
                className="found-row"
                onClick={() => (close(), screen.show({ kind: 'result', testId: id }))}
                {...(i === 0 ? { 'data-first': '' } : {})}
              >
                <span className="unwrapped second">
                  {formatDate(body.startedWallMs, body.zoneMinutes)} {formatClock(body.startedWallMs, body.zoneMinutes, 'minutes')}
                </span>
                <span className="grow">
                  <ChannelName text={headline === undefined ? words.nothing : headlineText(headline)} />
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </Dialog>
  );
}
