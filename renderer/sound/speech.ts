/** The system's own voice, where it has one that works without a network. Off by default; never the only sign. */
export type Speech = {
  /** what was being said gives way to this */
  say(text: string): void;
};

/** 'O2' is letters and a figure, not a word. */
export const spokenText = (text: string): string =>
  text
    .replace(/\bCO\b/g, 'C O')
    .replace(/\bO2\b/g, 'O 2')
    .replace(/\u2009/g, ' ')
    .replace(/\u2212/g, 'minus ');

export function createSpeech(isOn: () => boolean, voices: SpeechSynthesis | undefined = globalThis.speechSynthesis): Speech {
  return {
    say(text) {
      if (!isOn() || voices === undefined || text === '') return;
      const voice = voices.getVoices().find(({ localService, lang }) => localService && lang.startsWith('en'));
      // a voice from the network would send what is measured elsewhere
      if (voice === undefined) return;
      voices.cancel();
      const said = new SpeechSynthesisUtterance(spokenText(text));
      said.voice = voice;
      voices.speak(said);
    },
  };
}
