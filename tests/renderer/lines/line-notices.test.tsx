// @vitest-environment happy-dom
/** What is odd about the lines: each is said with its next step; a press sends that step, and nothing else can be pressed. */
import { cleanup, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { LineNotices } from '../../../renderer/views/lines/LineNotices.tsx';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { LineNotice } from '../../../shared/measurement/line-notice.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import { button, inWindow, press, settled } from '../helpers/in-window.tsx';
import { infoOf, recordWith } from '../helpers/records.ts';

afterEach(cleanup);

const words = recipeWords.notices;
function show(info: Partial<RunInfo>, mayAct = true) {
  const meansNoValue = vi.fn();
  const record = recordWith({ timeMs: 100_000 }, info);
  const made = inWindow(
    <LineNotices info={record.info} mayAct={mayAct} meansNoValue={meansNoValue} />,
    { runs: { 'run-1': record }, runId: 'run-1' },
    { 'run.trySpeeds': infoOf({ phase: 'learning' }), 'run.waveOff': infoOf({ phase: 'paused' }) },
  );
  return { ...made, meansNoValue, phase: () => made.store.getState().runs['run-1']?.info.phase };
}
const said = (): string[] => screen.queryAllByRole('status').map((one) => one.querySelector('.grow')?.textContent ?? one.textContent ?? '');
const buttons = (): string[] => [...document.querySelectorAll('button')].map(({ textContent }) => textContent ?? '');

const sentinel: LineNotice = { kind: 'sentinel', channel: 'co', value: -9999 };

it('nothing is said of lines that are as they should be', () => {
  show({});
  expect(said()).toEqual([]);
});

describe('each notice', () => {
  it.each<[LineNotice, string, string[]]>([
    [
      { kind: 'wrong-speed', share: 0.4, baud: 9600 },
      'The speed of 9600 is probably wrong.40 % of the bytes',
      [words['wrong-speed'].action],
    ],
    // still since 40 s, it is 100 s now
    [{ kind: 'stale', sinceMs: 40_000 }, 'no digit has changed for 1 min', [words.waveOff]],
    [{ kind: 'reads-nothing', lines: 20 }, 'none of the newest 20 lines', [words.waveOff]],
    [{ kind: 'contradiction', what: 'temperatures' }, 'The air reads hotter than the stack.', [words.waveOff]],
    [{ kind: 'contradiction', what: 'gases' }, 'Room air reads as carbon dioxide', [words.waveOff]],
    [{ kind: 'clock-set', byMs: 60_000 }, 'set ahead by 1 min', [words.waveOff]],
    [{ kind: 'clock-set', byMs: -60_000 }, 'set back by 1 min', [words.waveOff]],
    [sentinel, 'Is -9999 really measured? CO sent it three times.', [words.sentinel.action, words.waveOff]],
  ])('%j', (notice, sentence, offered) => {
    show({ notices: [notice] });
    expect(said()).toHaveLength(1);
    expect(said()[0]).toContain(sentence);
    expect(buttons()).toEqual(offered);
    cleanup();
    show({ notices: [notice] }, false);
    for (const name of offered) expect(button(name).disabled, name).toBe(true);
  });
});

it('tries the usual speeds, and ignores what is not so', async () => {
  const speeds = show({ notices: [{ kind: 'wrong-speed', share: 0.4, baud: 9600 }] });
  press(words['wrong-speed'].action);
  await settled();
  expect(speeds.asked).toEqual([{ name: 'run.trySpeeds', input: { runId: 'run-1' } }]);
  expect(speeds.phase()).toBe('learning');
  cleanup();
  const off = show({ notices: [{ kind: 'stale', sinceMs: 0 }] });
  press(words.waveOff);
  await settled();
  expect(off.asked).toEqual([{ name: 'run.waveOff', input: { runId: 'run-1', notice: 'stale' } }]);
  expect(off.phase()).toBe('paused');
  expect(off.meansNoValue).not.toHaveBeenCalled();
});
it('a number that stands for no value is told to the recipe, and asked no more', async () => {
  const { asked, meansNoValue } = show({ notices: [sentinel] });
  press(words.sentinel.action);
  await settled();
  expect(meansNoValue).toHaveBeenCalledExactlyOnceWith(sentinel);
  expect(asked).toEqual([{ name: 'run.waveOff', input: { runId: 'run-1', notice: 'sentinel' } }]);
});
it('while the usual speeds are tried, that alone is said', () => {
  show({ notices: [sentinel], tryingSpeeds: { baud: 19_200, tried: 2, of: 6 } });
  expect(said()).toEqual([expect.stringMatching(/^Listening at 19\s200, speed 2 of 6/)]);
  expect(buttons()).toEqual([]);
});
