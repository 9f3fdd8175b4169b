/** At most one notice or alarm is shown; the others are counted. Pure. */
import type { StandingProblem } from '../../shared/ipc/session-commands.ts';
import { display as displayWords, question as questionWords, troubleText } from '../../shared/words/lines/learning.ts';
import { source } from '../../shared/words/source.ts';
import { isSilent, lineAgeMs } from './channels.ts';
import { coAlerts, type AlarmFacts } from './co-alerts.ts';
import type { RunRecord } from './run-record.ts';
import { sourceLabel } from './source-state.ts';
import type { AppState } from './store.ts';
import type { Alert } from './alert.ts';
import { formatDuration } from '../../shared/format/duration.ts';
import { problems } from '../../shared/words/problems.ts';

/** lines without a recipe until it is said that none was found */
const REFUSED_AFTER = 30;

/** What endangers the record or the person is an alarm; the rest can wait for an answer. */
const alarmCodes: ReadonlySet<string> = new Set(['disk-full', 'disk-failed', 'store-read-only', 'port-lost', 'source-silent']);

export function alertsOf(
  record: RunRecord | undefined,
  { standing, answer, ...facts }: Pick<AppState, 'standing' | 'answer'> & Partial<AlarmFacts>,
): Alert[] {
  // danger to people comes before everything else
  const { alarms = [], runs = {}, workspace = 'tune', runId, visit } = facts;
  const alerts: Alert[] = coAlerts({ alarms, runs, workspace, runId, visit });
  if (record !== undefined) {
    const ago = formatDuration(lineAgeMs(record) ?? 0);
    if (record.info.phase === 'lost') {
      const code = record.info.problem?.code ?? 'port-lost';
      const rest = code === 'port-lost' ? source.portUnpluggedSentence(sourceLabel(record.info), ago) : problems[code].nextStep;
      alerts.push({ kind: 'alarm', key: 'lost', strong: problems[code].title, rest, dismiss: undefined });
    } else if (isSilent(record)) {
      alerts.push({
        kind: 'alarm',
        key: 'silent',
        strong: problems['source-silent'].title,
        rest: source.silentSentence(sourceLabel(record.info), ago),
        dismiss: undefined,
      });
    }
    const { question, refusal, display, counters, phase } = record.info;
    if (question !== undefined && phase !== 'ended') {
      const count = question.columns.filter(({ sureness }) => sureness === 'look').length;
      alerts.push({
        kind: 'notice',
        key: 'question',
        strong: questionWords.title,
        rest: questionWords.alert(count),
        dismiss: undefined,
        opensLines: questionWords.open,
      });
    }
    if (display !== undefined && phase !== 'ended')
      alerts.push({ kind: 'notice', key: 'display', strong: displayWords.alert, rest: displayWords.alertWhy, dismiss: undefined });
    // a few lines may be a greeting
    if (refusal !== undefined && phase !== 'ended' && counters.lines >= REFUSED_AFTER)
      alerts.push({
        kind: 'notice',
        key: 'refusal',
        strong: problems['lines-refused'].title,
        rest: troubleText(refusal.trouble, refusal.columns, refusal.lines),
        dismiss: undefined,
        opensLines: questionWords.openLines,
      });
  }
  const shownAlready = new Set(alerts.map(({ key }) => (key === 'lost' ? 'port-lost' : key === 'silent' ? 'source-silent' : key)));
  for (const one of standing) {
    if (shownAlready.has(one.problem.code)) continue;
    alerts.push(standingAlert(one));
  }
  if (answer !== undefined)
    alerts.push({ kind: 'notice', key: 'answer', ...sentence(answer.problem.code, answer.problem.detail), dismiss: 'answer' });
  return alerts.sort(
    (a, b) => Number(b.kind === 'alarm') - Number(a.kind === 'alarm') || Number(b.key === 'answer') - Number(a.key === 'answer'),
  );
}

const sentence = (code: keyof typeof problems, detail: string | undefined): Pick<Alert, 'strong' | 'rest'> => ({
  strong: problems[code].title,
  rest: detail === undefined || detail.length > 160 ? problems[code].nextStep : `${detail} ${problems[code].nextStep}`,
});

function standingAlert({ key, problem }: StandingProblem): Alert {
  const isAlarm = alarmCodes.has(problem.code);
  return { kind: isAlarm ? 'alarm' : 'notice', key, ...sentence(problem.code, problem.detail), dismiss: isAlarm ? undefined : 'standing' };
}
