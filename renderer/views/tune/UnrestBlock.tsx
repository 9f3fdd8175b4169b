import { unrestWords as words } from '../../../shared/words/tune/states.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Lane } from '../../components/Lane.tsx';
import { channelWords, stateWords } from '../../../shared/words/tune/states.ts';
import type { ChannelRowState } from '../../state/channels.ts';
import type { Unrest } from '../../state/readiness.ts';
import './tune.css';

/** What a channel on a slope, or one that goes to and fro, usually means: waiting does not bring it to a rest. */
export function UnrestBlock({ unrest, rows }: { unrest: readonly Unrest[]; rows: readonly ChannelRowState[] }) {
  const kinds = [...new Set(unrest.map(({ state }) => state))];
  return (
    <div className="unrest">
      {kinds.map((kind) => {
        const channels = unrest.filter(({ state }) => state === kind).map(({ channel }) => channel);
        const direction = rows.find(({ channel }) => channel === channels[0])?.detail?.direction;
        return (
          <section key={kind}>
            <Lane state={kind} size="large" direction={direction} />
            <h3>
              {stateWords[kind]}{' '}
              <span className="second">
                <ChannelName text={words.how[kind](channels.map((channel) => channelWords[channel].name).join(', '))} />
              </span>
            </h3>
            <p>{words.usually[kind]}</p>
          </section>
        );
      })}
      <p className="second">{words.handAbout}</p>
    </div>
  );
}
