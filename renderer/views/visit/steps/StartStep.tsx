import { oilFuelIds } from '../../../../shared/combustion/fuel.ts';
import { unacknowledged } from '../../../../shared/tuning/advice/cautions.ts';
import { smokeRuleNames } from '../../../../shared/tuning/trial/smoke.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { jobs, type Job } from '../../../../shared/tuning/visit/step-names.ts';
import { jobWords } from '../../../../shared/words/tune/trade.ts';
import { common } from '../../../../shared/words/common.ts';
import { smokeRuleWords } from '../../../../shared/words/visit/smoke-and-window.ts';
import { cautionWords } from '../../../../shared/words/visit/cautions.ts';
import { stepWords } from '../../../../shared/words/visit/steps.ts';
import { startWords as words } from '../../../../shared/words/visit/screens/start.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Check, Choice } from '../../../components/Field.tsx';
import { NoticeSign } from '../../../components/Signs.tsx';
import { FiguresCardField } from '../../geometry/FiguresCardField.tsx';
import { ApplianceField } from '../start/ApplianceField.tsx';
import { KeptField, optionsOf } from '../../../fields/KeptField.tsx';
import { plainText } from '../../../fields/typed.ts';
import { CarryOver, LastTime } from '../start/CarryOver.tsx';
import { Co2MaxField } from '../start/Co2MaxField.tsx';
import { StageChoice } from '../start/StageChoice.tsx';
import { RoomCoField } from '../safety/RoomCoField.tsx';
import { FlueLimitsButton } from '../start/FlueLimits.tsx';
import { MissingList, StepFrame, useCautions } from './frame/StepFrame.tsx';
import { useVisit } from '../use-visit.ts';
import { whenDefined } from '../../../../shared/defined.ts';
import '../visit.css';
import './steps.css';

/** Who, where, with what, and whether the room is safe to work in. */
export function StartStep() {
  const { visits, actions } = useParts();
  const { visit, may, edit, put } = useVisit();
  const shownUnits = useApp((state) => state.settings.units);
  const open = unacknowledged('start', visit.cautions);
  const { keys, read } = useCautions('start');
  const technicianAt = visit.people.findIndex(({ role }) => role === 'technician');
  const technician = visit.people[technicianAt];
  const setTechnician = (part: { name?: string | undefined; licence?: string | undefined }): string | undefined => {
    const merged = { role: 'technician', licence: technician?.licence, ...part, name: part.name ?? technician?.name ?? '' };
    const at = technicianAt < 0 ? visit.people.length : technicianAt;
    if (merged.name.trim() === '') return technicianAt < 0 ? undefined : edit({ path: ['people', at] });
    return edit({ path: ['people', at], after: merged });
  };
  return (
    <StepFrame
      step="start"
      right={
        <>
          <section className="cautions-inline" aria-label={visitWords.cautionsTitle(stepWords.start.name)}>
            <div className="row gap-4">
              <NoticeSign />
              <h2>{open.length > 0 ? visitWords.cautionsTitle(stepWords.start.name) : visitWords.cautionsDone}</h2>
            </div>
            <ul className="cautions-list">
              {(['trained-people', 'local-code', 'not-a-safety-device', 'room-co'] as const).map((key) => (
                <li key={key} className={open.length > 0 ? '' : 'second'}>
                  {cautionWords[key]}
                </li>
              ))}
            </ul>
            {keys.length > 0 && (
              <button type="button" className="button" onClick={read}>
                {visitWords.cautionsRead}
              </button>
            )}
          </section>
          <MissingList step="start" />
        </>
      }
    >
      <p className="second">{words.oilOnly}</p>
      <div className="start-columns">
        {/* the four that every visit needs come first */}
        <div className="form">
          <ApplianceField />
          <CarryOver />
          <div className="form-row">
            <KeptField
              name="technician"
              label={words.technician}
              numeric={false}
              width={230}
              disabled={!may}
              shown={technician?.name ?? ''}
              parse={plainText}
              keep={(name) => setTechnician({ name: name ?? '' })}
            />
            <KeptField
              name="licence"
              label={words.licence}
              numeric={false}
              width={160}
              disabled={!may || technician === undefined}
              shown={technician?.licence ?? ''}
              parse={plainText}
              keep={(licence) => setTechnician({ licence })}
            />
          </div>
          <RoomCoField before={visit.trials.length === 0} />
          <Choice
            label={words.zeroed}
            value={visit.zeroed?.place ?? ''}
            width={236}
            disabled={!may}
            change={(place) => put({ path: ['zeroed'], after: place === '' ? undefined : { wallMs: visits.nowWallMs(), place } })}
            options={optionsOf(words.zeroedPlaces)}
            hint={visit.zeroed?.place === 'indoors' ? words.zeroedIndoors : undefined}
          />
        </div>
        <div className="form">
          <Choice
            label={jobWords.label}
            value={visit.job ?? ''}
            width={334}
            hint={visit.job === undefined ? undefined : jobWords.about[visit.job]}
            disabled={!may}
            change={(job: Job | '') => put({ path: ['job'], after: job === '' ? undefined : job })}
            options={[
              ...(visit.job === undefined ? [{ value: '' as const, text: jobWords.unsaid }] : []),
              ...jobs.map((value) => ({ value, text: jobWords.names[value] })),
            ]}
          />
          <div className="form-row">
            <Choice
              label={words.fuel}
              value={visit.fuelId ?? ''}
              width={190}
              disabled={!may}
              change={(fuelId) => put({ path: ['fuelId'], after: fuelId })}
              hint={visit.fuelId === undefined ? undefined : common.fuelsAlso[visit.fuelId]}
              options={[
                ...(visit.fuelId === undefined ? [{ value: '', text: common.none }] : []),
                // a visit of an earlier version may hold a gas: it is shown, and not offered
                ...[...new Set([...oilFuelIds, ...whenDefined(visit.fuelId)])].map((id) => ({
                  value: id,
                  text: common.fuels[id] ?? id,
                })),
              ]}
            />
            <Choice
              label={words.units}
              value={visit.unitPreset}
              disabled={!may}
              width={200}
              change={(units) => {
                // lengths that were typed keep their unit
                const areLengths = Object.keys(visit.setUp.rows).length > 0 || Object.keys(visit.setUp.geometry?.rows ?? {}).length > 0;
                const isTaken = put(
                  { path: ['unitPreset'], after: units },
                  ...(areLengths ? [] : [{ path: ['setUp', 'lengthUnit'], after: units === 'us' ? 'inch' : 'mm' }]),
                );
                if (isTaken) void actions.changeSettings({ units });
              }}
              options={optionsOf(common.units)}
              hint={shownUnits === visit.unitPreset ? undefined : words.unitsDiffer(common.units[shownUnits])}
            />
          </div>
          <div className="form-row">
            <KeptField
              name="instrument"
              label={words.instrument}
              numeric={false}
              width={190}
              disabled={!may}
              shown={visit.instrumentName ?? ''}
              parse={plainText}
              keep={(value) => edit({ path: ['instrumentName'], after: value })}
            />
            <Choice
              label={words.kind}
              value={visit.kind}
              width={240}
              disabled={!may}
              change={(kind) => put({ path: ['kind'], after: kind })}
              options={optionsOf(words.kinds)}
            />
          </div>
          <FiguresCardField />
        </div>
        <div className="form wide">
          <LastTime />
          <div className="form-row">
            <Choice
              label={words.smokeRule}
              value={visit.smokeRule}
              width={300}
              disabled={!may}
              change={(rule: Visit['smokeRule']) => put({ path: ['smokeRule'], after: rule })}
              options={smokeRuleNames.map((rule) => ({ value: rule, text: smokeRuleWords[rule] }))}
            />
            <Choice
              label={words.draftHabit}
              value={visit.draftHabit}
              width={300}
              disabled={!may}
              change={(habit: Visit['draftHabit']) => put({ path: ['draftHabit'], after: habit })}
              options={optionsOf(words.draftHabits)}
            />
          </div>
          <Choice
            label={words.flame}
            value={visit.flame ?? 'yellow'}
            width={334}
            disabled={!may}
            change={(flame) => put({ path: ['flame'], after: flame })}
            options={optionsOf(words.flames)}
          />
          <Co2MaxField />
          <StageChoice />
          <FlueLimitsButton />
          <Check
            label={words.pressurised}
            checked={visit.pressurised}
            disabled={!may}
            change={(on) => put({ path: ['pressurised'], after: on })}
          />
        </div>
      </div>
    </StepFrame>
  );
}
