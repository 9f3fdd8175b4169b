/** What hangs at the burner: how it was left, in the fewest figures, and when the next visit is due. */
import { formatIsoDay } from '../format/date.ts';
import { reportWords } from '../words/paper/page-one.ts';
import { labelWords } from '../words/paper/label.ts';
import { labelRows, labelWarning, nextDueOf } from './label-facts.ts';
import { fuelName } from './pages/page-one.ts';
import type { BurnerLabel } from './report-model.ts';
import { shortHash, timesOf } from './written.ts';
import type { Parts } from './pages/page-parts.ts';
import { whenDefined } from '../defined.ts';

export function burnerLabel({ visit, input, units, judgement }: Parts): BurnerLabel {
  const { appliance } = input;
  const technician = visit.people.find(({ role }) => role === 'technician');
  const due = nextDueOf(visit, appliance);
  const hash = visit.signature?.hash;
  return {
    title: labelWords.title,
    about: [fuelName(visit), appliance?.name ?? reportWords.noAppliance].join(' · '),
    day: timesOf(visit).day(visit.startedWallMs),
    warning: labelWarning(visit, judgement.safe === 'no'),
    rows: labelRows(visit, units),
    due: { title: labelWords.due, text: due === undefined ? labelWords.noDue : formatIsoDay(due) },
    foot: [
      labelWords.reset,
      ...whenDefined(technician, (technician) =>
        [technician.name, technician.licence === undefined ? undefined : labelWords.licence(technician.licence)]
          .filter(Boolean)
          .join(' · '),
      ),
    ],
    side: [reportWords.visit(visit.number), hash === undefined ? labelWords.unsigned : shortHash(hash)],
  };
}
