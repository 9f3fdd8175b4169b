import { useApp } from '../../app-parts.ts';
import { alertsOf } from '../../state/top-alert.ts';
import { AlertBand } from './AlertBand.tsx';

/** of the source alone: nothing to act on where nothing is measured any more */
const ofSource: ReadonlySet<string> = new Set(['port-lost', 'source-silent']);

/**
 * What the host refused or warns of, for screens where no run speaks: never behind a screen. What a run says is said where it is measured.
 * `isMeasured`: a source that went away matters to what is on the screen.
 */
export function HostAlert({ isMeasured = true }: { isMeasured?: boolean }) {
  const standing = useApp((state) => state.standing);
  const answer = useApp((state) => state.answer);
  // the answer says the same a moment sooner, and can be closed
  const others = answer === undefined ? standing : standing.filter(({ problem }) => problem.code !== answer.problem.code);
  const shown = isMeasured ? others : others.filter(({ problem }) => !ofSource.has(problem.code));
  const [alert, ...more] = alertsOf(undefined, { standing: shown, answer });
  return alert === undefined ? null : <AlertBand alert={alert} others={more.length} />;
}
