/**
 * A second visit to the same appliance: the run of a stream is begun with what the stream of the first visit taught, and with what another appliance
 * taught. The second visit is the second half of one stream with many settings, so that plant and instrument are the same.
 */
import { createSettling } from '../../shared/settling/settling.ts';
import type { SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import { newOutcome, row, runDetector, scoreReadings } from './settling-score.ts';
import { makePlainStream } from './settling-plain-streams.ts';
import { makeStream, type Stream } from './settling-streams.ts';

/** Cut where a setting ends: what came before is the first visit, what comes after the second, with its own time. */
function twoVisits(stream: Stream): [Stream, Stream] | undefined {
  const k = Math.ceil(stream.settings.length / 2);
  const cutS = stream.settings[k]?.fromS;
  if (cutS === undefined || k < 2) return undefined;
  return [
    { ...stream, samples: stream.samples.filter(({ timeMs }) => timeMs < 1000 * cutS), settings: stream.settings.slice(0, k) },
    { ...stream, samples: stream.samples.filter(({ timeMs }) => timeMs >= 1000 * cutS), settings: stream.settings.slice(k) },
  ];
}

function teach({ samples }: Stream): SettlingKnowledge | undefined {
  const settling = createSettling();
  for (const sample of samples) settling.push(sample);
  return settling.knowledge();
}

export function scoreTaught(first = 910_000, count = 100): void {
  for (const [name, make] of [
    ['first generator', makeStream],
    ['second generator', makePlainStream],
  ] as const) {
    const results = { untaught: newOutcome(), taught: newOutcome(), wrong: newOutcome() };
    let other: SettlingKnowledge | undefined;
    for (let seed = first; seed < first + count; seed++) {
      const visits = twoVisits(make(seed));
      if (visits === undefined) continue;
      const known = teach(visits[0]);
      const with_ = (k: SettlingKnowledge | undefined) => runDetector(visits[1], false, k === undefined ? {} : { known: k }).full;
      scoreReadings(results.untaught, visits[1], with_(undefined), 'full');
      scoreReadings(results.taught, visits[1], with_(known), 'full');
      if (other) scoreReadings(results.wrong, visits[1], with_(other), 'full');
      other = known;
    }
    console.log(`second visits, ${name}, seeds ${first}-${first + count - 1}`);
    console.log(`${''.padEnd(26)}false % right %  median   90 % repeats`);
    for (const [kind, outcome] of Object.entries(results)) console.log(row(kind, outcome));
  }
}
