import { beforeAfter } from '../../../../shared/tuning/visit/before-after.ts';
import { smokeApproach } from '../../../../shared/tuning/curve/air-curve.ts';
import { lockEcho } from '../../../../shared/tuning/trial/lock-echo.ts';
import { conditionsOf } from '../../../../shared/tuning/visit/conditions.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { L_PER_US_GALLON, massShown } from '../../../../shared/units/convert.ts';
import { beforeAfterWords, echoWords } from '../../../../shared/words/visit/before-after.ts';
import { approachWords } from '../../../../shared/words/visit/smoke-and-window.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { KeptField } from '../../../fields/KeptField.tsx';
import { typedPlain } from '../../../fields/typed.ts';
import { Efficiency } from './AsFoundStep.tsx';
import { MissingList } from './frame/StepFrame.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { useCurve, useVisit } from '../use-visit.ts';
import { formatNumber, withUnit } from '../../../../shared/format/quantity.ts';

/** What is missing, what was gained, and whether it held. */
export function AsLeftRight({ asLeft }: { asLeft: Trial | undefined }) {
  const { visit, stage, units, formats, may, edit } = useVisit();
  const facts = useCurve();
  const conditions = conditionsOf(visit);
  const asFound = visit.trials.find(({ id }) => id === stage.asFoundTrialId);
  const echoTrial = visit.trials.find(({ id }) => id === stage.echoTrialId);
  const echo = asLeft === undefined || echoTrial === undefined ? undefined : lockEcho(asLeft, echoTrial);
  const result =
    asLeft === undefined || asFound === undefined || conditions === undefined || asFound.id === asLeft.id
      ? undefined
      : beforeAfter(asFound, asLeft, conditions, visit.annualFuelGal);
  const volume = units === 'us' ? { factor: 1, unit: 'gal' } : { factor: L_PER_US_GALLON, unit: 'L' };
  const yearly = typeof result === 'object' && result.clear && result.gainPoints > 0 ? result.yearly : undefined;
  return (
    <>
      <MissingList step="as-left" />
      {result !== undefined && (
        <section aria-label={words.beforeAfter}>
          <h2>{words.beforeAfter}</h2>
          <p>
            <ChannelName text={beforeAfterWords(result, formats)} />
          </p>
          {typeof result === 'object' && (
            <KeptField
              name="annual"
              label={words.annual}
              width={180}
              unit={volume.unit}
              disabled={!may}
              shown={visit.annualFuelGal === undefined ? '' : formatNumber(visit.annualFuelGal * volume.factor, 0).replace('\u2009', '')}
              parse={(text) => typedPlain(text)}
              keep={(value) => edit({ path: ['annualFuelGal'], after: value === undefined ? undefined : value / volume.factor })}
            />
          )}
          {yearly !== undefined && (
            <p>
              <ChannelName
                text={words.yearly(
                  `${formatNumber(yearly.gallons * volume.factor, 0)} ±${formatNumber(yearly.gallonsExpanded * volume.factor, 0)}\u2009${volume.unit}`,
                  yearly.co2Kg === undefined
                    ? ''
                    : withUnit(formatNumber(yearly.co2Kg * massShown[units].factor, 0), massShown[units].unit),
                )}
              />
            </p>
          )}
        </section>
      )}
      {result === undefined && <Efficiency trialId={asLeft?.id} />}
      {asLeft !== undefined && (
        <section aria-label={words.lockEcho}>
          <h2>{words.lockEcho}</h2>
          {echo === undefined ? (
            <p className="second">{words.echoSame}</p>
          ) : (
            <p className="verdict">
              <VerdictSign verdict={echo.held ? 'pass' : 'fail'} />
              <span>
                <ChannelName text={echoWords(echo, formats)} />
              </span>
            </p>
          )}
        </section>
      )}
      {asLeft !== undefined && facts !== undefined && (
        <section aria-label={words.approach}>
          <h2>{words.approach}</h2>
          <p>{approachWords[smokeApproach(facts.curve, asLeft.id)]}</p>
        </section>
      )}
    </>
  );
}
