import { useApp } from '../app-parts.ts';
import { alertsOf } from '../state/top-alert.ts';
import { AlertBand } from './AlertBand.tsx';

/** What the host refused or warns of, for screens where no run speaks: never behind a screen. What a run says is said where it is measured. */
export function HostAlert() {
  const standing = useApp((state) => state.standing);
  const answer = useApp((state) => state.answer);
  // the answer says the same a moment sooner, and can be closed
  const others = answer === undefined ? standing : standing.filter(({ problem }) => problem.code !== answer.problem.code);
  const [alert, ...more] = alertsOf(undefined, { standing: others, answer });
  return alert === undefined ? null : <AlertBand alert={alert} others={more.length} />;
}
