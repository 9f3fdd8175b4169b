import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { createSpeech, spokenText } from '../../../renderer/sound/speech.ts';

type Voice = { localService: boolean; lang: string };
/** The voices of a system, and what they say. */
function system(voices: Voice[]) {
  const said: { text: string; voice: unknown }[] = [];
  let cancelled = 0;
  const synthesis = {
    getVoices: () => voices,
    cancel: () => (cancelled += 1),
    speak: ({ text, voice }: { text: string; voice: unknown }) => said.push({ text, voice }),
  };
  return { said, cancelled: () => cancelled, synthesis: synthesis as unknown as SpeechSynthesis };
}
const here: Voice = { localService: true, lang: 'en-GB' };
const network: Voice = { localService: false, lang: 'en-US' };
const foreign: Voice = { localService: true, lang: 'fr-FR' };

beforeEach(() => {
  vi.stubGlobal(
    'SpeechSynthesisUtterance',
    class {
      voice: unknown = null;
      constructor(readonly text: string) {}
    },
  );
});
afterEach(() => vi.unstubAllGlobals());

it('says it with an English voice of the computer itself, and breaks off what was being said', () => {
  const { said, cancelled, synthesis } = system([foreign, network, here]);
  createSpeech(() => true, synthesis).say('Gas reading ready.');
  expect(said).toEqual([{ text: 'Gas reading ready.', voice: here }]);
  expect(cancelled()).toBe(1);
});

it.each([
  ['is silent while it is off', false, [here], 'Ready.'],
  ['sends nothing that was measured to a voice from the network', true, [network], 'Ready.'],
  ['does not read English with the sounds of another language', true, [foreign], 'Ready.'],
  ['has nothing to say', true, [here], ''],
])('%s', (_, isOn, voices, text) => {
  const { said, cancelled, synthesis } = system(voices);
  createSpeech(() => isOn, synthesis).say(text);
  expect([said, cancelled()]).toEqual([[], 0]);
});

it('does nothing on a computer without a voice', () => {
  expect(() => createSpeech(() => true, undefined).say('Ready.')).not.toThrow();
});

it('gases are spelt out, words are not', () => {
  expect(spokenText('CO 120 ppm, O2 4.5 %, −3 °C. COLD')).toBe('C O 120 ppm, O 2 4.5 %, minus 3 °C. COLD');
});
