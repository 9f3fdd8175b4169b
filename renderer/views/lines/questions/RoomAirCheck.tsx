/** Two facts that no wrong column can fake: room air, and one warm fingertip. */
import type { RunInfo } from '../../../../shared/ipc/run-info.ts';
import { quantities } from '../../../../shared/units/quantities.ts';
import { recipeWords } from '../../../../shared/words/lines/lines.ts';
import { useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { BrandMark } from '../../../components/Signs.tsx';

const words = recipeWords.check1;

export function RoomAirCheck({ info, isConfirmed, mayAct }: { info: RunInfo; isConfirmed: boolean; mayAct: boolean }) {
  const { actions, store } = useParts();
  const { check, runId } = info;
  const step = async (next: 'start' | 'warm' | 'stop'): Promise<void> => {
    const answer = await actions.ask('run.check', { runId, step: next });
    if (answer !== undefined) store.getState().runChanged(answer);
  };
  if (check === undefined) {
    return (
      <section className="say next" aria-label={words.next}>
        <BrandMark />
        <div className="grow">
          {isConfirmed ? (
            words.done
          ) : (
            <>
              <b>{words.next}</b>{' '}
              <span className="second">
                <ChannelName text={words.how} />
              </span>
            </>
          )}
        </div>
        <button type="button" className="button" disabled={!mayAct} onClick={() => void step('start')}>
          {words.start}
        </button>
      </section>
    );
  }
  const isAirRight = check.roomAir === 'confirmed';
  const probe = words.probe[check.probe];
  const hasMoved = check.probe === 'another-moved' || check.probe === 'several-moved';
  return (
    <section className="say next" aria-label={words.next}>
      <BrandMark />
      <div className="grow" role="status">
        <div>
          <b>
            <ChannelName text={words.air[check.roomAir]} />
          </b>
        </div>
        {isAirRight && (
          <div>
            <ChannelName text={hasMoved ? words.moved(probe, check.moved.map((channel) => quantities[channel].label).join(', ')) : probe} />
          </div>
        )}
        {isAirRight && check.probe === 'confirmed' && <div>{words.done}</div>}
      </div>
      {isAirRight && check.probe !== 'confirmed' && check.probe !== 'waiting' && (
        <button type="button" className="button" disabled={!mayAct} onClick={() => void step('warm')}>
          {words.warm}
        </button>
      )}
      <button type="button" className="button" disabled={!mayAct} onClick={() => void step('stop')}>
        {words.stop}
      </button>
    </section>
  );
}
