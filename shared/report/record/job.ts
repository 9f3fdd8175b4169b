import { nextDueOf } from '../label-facts.ts';
import { formatIsoDay, formatZone } from '../../format/date.ts';
import { formatNumber, withUnit } from '../../format/quantity.ts';
import { BTU_PER_KWH } from '../../units/convert.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { smokeRuleWords } from '../../words/visit/smoke-and-window.ts';
import { startWords } from '../../words/visit/screens/start.ts';
import { fuelOfVisit } from '../../tuning/visit/conditions.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import { fuelName } from '../pages/page-one.ts';
import { co2MaxText } from './trials.ts';
import type { Fact, Section } from '../report-model.ts';
import { ruleOf } from '../stage-facts.ts';
import { fuelVolume, timesOf } from '../written.ts';
import type { Parts } from '../pages/page-parts.ts';

const { labels } = recordWords;

export function jobSection({ visit, input, units }: Parts): Section {
  const { appliance } = input;
  const due = nextDueOf(visit, appliance);
  const times = timesOf(visit);
  const power = (kw: number | undefined): string | undefined =>
    kw === undefined
      ? undefined
      : units === 'us'
        ? withUnit(formatNumber(kw * BTU_PER_KWH, -2), 'Btu/h')
        : withUnit(formatNumber(kw, 1), 'kW');
  const burner = appliance?.burner;
  const facts: (Fact | undefined)[] = [
    fact(labels.visit, String(visit.number)),
    fact(labels.kind, recordWords.kinds[visit.kind]),
    fact(labels.begun, times.dayAndTime(visit.startedWallMs)),
    fact(labels.closed, visit.endedWallMs === undefined ? undefined : times.dayAndTime(visit.endedWallMs)),
    fact(labels.zone, formatZone(visit.zoneMinutes)),
    ...visit.people.map(({ role, name, licence }) => fact(labels[role], [name, licence].filter(Boolean).join(', '))),
    fact(labels.appliance, appliance?.name),
    fact(labels.applianceKind, appliance && startWords.applianceKinds[appliance.kind]),
    fact(labels.maker, words(appliance?.maker, appliance?.model)),
    fact(labels.serial, appliance?.serial),
    fact(labels.year, appliance?.year === undefined ? undefined : String(appliance.year)),
    fact(labels.ratedInput, power(appliance?.ratedInputKw)),
    fact(labels.ratedOutput, power(appliance?.ratedOutputKw)),
    fact(labels.burner, words(burner?.maker, burner?.model, burner?.serial, burner?.year === undefined ? undefined : String(burner.year))),
    fact(labels.place, appliance?.place),
    fact(labels.owner, appliance?.owner),
    fact(labels.contact, appliance?.contact),
    fact(labels.consent, appliance?.consent === undefined ? undefined : appliance.consent ? recordWords.yes : recordWords.no),
    fact(labels.pseudonym, appliance?.pseudonymised === true ? recordWords.pseudonymised : undefined),
    fact(labels.flueGas, appliance?.flueGas && recordWords.flueGases[appliance.flueGas]),
    fact(labels.tank, appliance?.tank && recordWords.tanks[appliance.tank]),
    fact(labels.fuel, fuelName(visit)),
    fact(labels.co2Max, co2MaxLine(visit)),
    fact(labels.annualFuel, visit.annualFuelGal === undefined ? undefined : fuelVolume(visit.annualFuelGal, units)),
    fact(labels.pressurised, visit.pressurised ? recordWords.yes : undefined),
    fact(labels.smokeRule, smokeRuleWords[ruleOf(visit)]),
    // one that was set on the visit is among the work
    fact(labels.nextDue, due === undefined || visit.nextDue !== undefined ? undefined : formatIsoDay(due)),
  ];
  return { title: recordWords.job, blocks: [{ kind: 'facts', facts: facts.filter((one) => one !== undefined) }] };
}

const co2MaxLine = (visit: Visit): string | undefined => {
  const fuel = fuelOfVisit(visit);
  return fuel && co2MaxText(fuel);
};

export const fact = (label: string, value: string | undefined): Fact | undefined =>
  value === undefined || value === '' ? undefined : { label, value };
const words = (...parts: readonly (string | undefined)[]): string | undefined => {
  const given = parts.filter((part) => part !== undefined && part !== '');
  return given.length === 0 ? undefined : given.join(', ');
};
