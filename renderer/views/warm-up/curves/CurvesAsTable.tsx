import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import { valueAt } from '../../../../shared/warm-up/curve.ts';
import { channelWords } from '../../../../shared/words/tune/states.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { useNarrow } from '../../../look/use-wide.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { numbered } from './overlay-content.ts';
import type { KeptCurve } from '../use-documents.ts';
import { DASH, formatNumber, formatValue, shownAs } from '../../../../shared/format/quantity.ts';
import '../warm-up.css';
import './curves.css';
import './CurveTable.css';
import './FitDetails.css';

const minutes = [0, 0.5, 1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30];

type Props = { shown: readonly KeptCurve[]; channel: SettlingChannel; units: 'us' | 'metric'; close: () => void };

/** The overlay as figures: what the picture shows, for who can't see it and for who wants to read it off. */
export function CurvesAsTable({ shown, channel, units, close }: Props) {
  const { name } = channelWords[channel];
  const isNarrow = useNarrow();
  const title = warmUp.tableTitle(name, shownAs(channel, units).unit);
  return (
    <Dialog title={title} close={close} wide>
      {/* moved sideways on a narrow page: by keys too */}
      <div className="scroll-x" role="group" aria-label={title} tabIndex={isNarrow ? 0 : undefined}>
        <table className="curves-table">
          <caption className="hidden-text">
            <ChannelName text={title} />
          </caption>
          <thead>
            <tr>
              <th scope="col">{warmUp.columns.curve}</th>
              {minutes.map((minute) => (
                <th key={minute} scope="col" className="right">
                  {formatNumber(minute, Number.isInteger(minute) ? 0 : 1)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.map(({ id, curve }, i) => (
              <tr key={id}>
                <th scope="row">{numbered(i, curve.name)}</th>
                {minutes.map((minute) => {
                  const column = curve.channels[channel];
                  const value = column === undefined ? undefined : valueAt(column, minute * 60);
                  return (
                    <td key={minute} className="right num">
                      {value === undefined ? DASH : formatValue(channel, value, units)}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Dialog>
  );
}
