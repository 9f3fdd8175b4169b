/** Sounds made by code: soft attack, at most 70 ms per tone, never the only sign of anything. */
export type SoundName = 'gas' | 'full' | 'mark' | 'silent' | 'alarm';
export type Tone = { readonly hertz: number; readonly atMs: number; readonly lastMs: number; readonly level: number };

export const tonesOf: Readonly<Record<SoundName, readonly Tone[]>> = {
  gas: [{ hertz: 660, atMs: 0, lastMs: 70, level: 1 }],
  full: [
    { hertz: 660, atMs: 0, lastMs: 70, level: 1 },
    { hertz: 880, atMs: 130, lastMs: 70, level: 1 },
  ],
  mark: [{ hertz: 1200, atMs: 0, lastMs: 12, level: 0.5 }],
  silent: [
    { hertz: 440, atMs: 0, lastMs: 70, level: 1 },
    { hertz: 330, atMs: 130, lastMs: 70, level: 1 },
  ],
  alarm: [0, 160, 320].map((atMs) => ({ hertz: 880, atMs, lastMs: 70, level: 1 })),
};

export type SoundSettings = { readonly volume: number; readonly muted: boolean; readonly off: readonly string[] };
export type Sounds = { play: (name: SoundName) => void };

export const isHeard = (name: SoundName, { volume, muted, off }: SoundSettings): boolean => !muted && volume > 0 && !off.includes(name);

const ATTACK_S = 0.008;

/** @param settings asked at each sound */
export function createSounds(settings: () => SoundSettings, open: () => AudioContext | undefined = openAudio): Sounds {
  let context: AudioContext | undefined;
  return {
    play(name) {
      const current = settings();
      if (!isHeard(name, current)) return;
      context ??= open();
      if (context === undefined) return;
      // a context made before the first press stays suspended until there was one
      if (context.state === 'suspended') void context.resume().catch(() => undefined);
      for (const tone of tonesOf[name]) schedule(context, tone, current.volume);
    },
  };
}

function openAudio(): AudioContext | undefined {
  // the browser plays nothing before the first press in the window, and complains about the attempt
  if (typeof AudioContext === 'undefined' || !navigator.userActivation.hasBeenActive) return undefined;
  return new AudioContext();
}

function schedule(context: AudioContext, tone: Tone, volume: number): void {
  const start = context.currentTime + tone.atMs / 1000;
  const end = start + tone.lastMs / 1000;
  const gain = context.createGain();
  gain.gain.setValueAtTime(0, start);
  gain.gain.linearRampToValueAtTime(volume * tone.level * 0.5, start + ATTACK_S);
  gain.gain.linearRampToValueAtTime(0, end);
  const oscillator = context.createOscillator();
  oscillator.frequency.value = tone.hertz;
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(start);
  oscillator.stop(end);
}
