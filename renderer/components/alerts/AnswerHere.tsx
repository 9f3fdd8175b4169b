import { useState } from 'react';
import { useApp } from '../../app-parts.ts';
import { alertsOf } from '../../state/top-alert.ts';
import { AlertBand } from './AlertBand.tsx';

/** For a small window: what was refused since it was opened. The window lies over the place where the screen would say it. */
export function AnswerHere() {
  const answer = useApp((state) => state.answer);
  const [before] = useState(answer);
  const [alert] = answer === before ? [] : alertsOf(undefined, { standing: [], answer });
  return alert === undefined ? null : <AlertBand alert={alert} others={0} />;
}
