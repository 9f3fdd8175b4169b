/** What is known of the recipe. The editor comes into this file's place. */
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { quantities } from '../../../shared/units/quantities.ts';
import { lines as words } from '../../../shared/words/source.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { formatNumber } from '../../format/quantity.ts';

export function RecipeSide({ info }: { info: RunInfo }) {
  return (
    <section className="recipe-side" aria-label={words.recipe}>
      <div className="row" style={{ alignItems: 'baseline', gap: 12 }}>
        <h2 style={{ fontSize: 20 }}>{words.recipe}</h2>
        <span className="grow" />
        {info.recipeConfidence !== undefined && (
          <span className="second small">{words.recipeSure(formatNumber(info.recipeConfidence * 100, 0))}</span>
        )}
      </div>
      {info.recipeName === undefined ? <p className="second">{words.recipeNone}</p> : <p className="bold">{info.recipeName}</p>}
      {info.channels.length > 0 && (
        <dl>
          {info.channels.map((channel) => (
            <div key={channel} style={{ display: 'contents' }}>
              <dt>
                <span className={`span span-${channel}`}>
                  <ChannelName text={quantities[channel].label} />
                </span>
              </dt>
              <dd className="second">{quantities[channel].unit}</dd>
            </div>
          ))}
        </dl>
      )}
      <p className="second small">{words.hidden}</p>
    </section>
  );
}
