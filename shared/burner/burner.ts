import { err, ok } from '../result.ts';
import { problem } from '../problem.ts';
import { draw } from './draw.ts';
import { createFire } from './fire.ts';
import { effectsOf } from './geometry-effects.ts';
import { createDisplay, withErrors } from './instrument.ts';
import { createLineWriter } from './line-writer.ts';
import { readPartChange } from './parts.ts';
import { createPlant, type FlueGas, type PlantInputs } from './plant.ts';
import { createRandom } from './random.ts';
import { createSampling, sampledGas } from './sampling.ts';
import type { LineShape, Scenario } from './scenario.ts';
import { takeSpot } from './smoke-pump.ts';
import { changeFromEvent, createTimeline, type Standing } from './timeline.ts';
import { createWorldNoise } from './world-noise.ts';
import { burnerTexts } from '../words/core/burner.ts';
import type { Adjuster, SimulatedLine, Burner } from './burner-interface.ts';

/** The physics moves in steps of this length whatever the caller's pace; so every pattern of calls gives the same run. */
const STEP_MS = 100;
/** Long before the first line nobody listens: the stores take longer steps there (they are exact for any), and the instrument sleeps. */
const COARSE_STEP_MS = 1000;
const LISTENS_BEFORE_MS = 180_000;
const MS_PER_HOUR = 3_600_000;
const FIRST_STAGE = '1';
const scales = { shutter: { min: 0, max: 10, step: 0.1 }, band: { min: 0, max: 10, step: 0.1 } } as const;
const isAdjuster = (name: string): name is Adjuster['name'] => Object.hasOwn(scales, name);

export function createBurner(options: {
  scenario: Scenario;
  seed: number;
  shape?: LineShape | undefined;
  ratePerSecond?: number | undefined;
}): Burner {
  const { scenario, seed } = options;
  const burner = draw(scenario.burner, seed, `${scenario.name} burner`);
  const appliance = draw(scenario.appliance, seed, `${scenario.name} appliance`);
  const surroundings = draw(scenario.surroundings, seed, `${scenario.name} surroundings`);
  const ratePerSecond = options.ratePerSecond ?? scenario.instrument.ratePerSecond;
  const instrument = { ...draw(scenario.instrument, seed, `${scenario.name} instrument`), ratePerSecond };
  const writer = createLineWriter({ shape: options.shape ?? instrument.shape, channels: instrument.channels, steps: instrument.steps });

  const onScale = (name: Adjuster['name'], value: number): number => {
    const { min, max, step } = scales[name];
    return Math.min(max, Math.max(min, Math.round(value / step) / Math.round(1 / step)));
  };
  const standing: Standing = {
    amounts: {
      pumpPressurePa: burner.nominalPumpPa,
      chimneyDraftFactor: 1,
      roomDepressionPa: 0,
      roomCoPpm: 0,
      leakFraction: 0,
      fouling: 1,
      nozzleFault: 0,
      inletBlockage: 0,
      flutterFraction: burner.flutterFraction,
      creepPpmPerMinute: 0,
      afterDripSeconds: 2,
      filterClog: 0,
    },
    switches: { firing: false, secondStage: false, probeIn: true, purge: false, plugged: true },
    positions: { shutter: onScale('shutter', burner.shutter), band: onScale('band', burner.band) },
    inlet: undefined,
  };
  const timeline = createTimeline(standing, (name, value) => {
    if (isAdjuster(name)) standing.positions[name] = onScale(name, value);
  });
  scenario.events.forEach((event, index) => timeline.add(changeFromEvent(event, index, seed, scenario)));

  const noise = createWorldNoise({
    seed,
    draftPa: surroundings.draftWanderPa,
    draftSeconds: surroundings.draftWanderSeconds,
    flutterHz: surroundings.flutterHz,
  });
  const plant = createPlant({ burner, appliance, surroundings });
  const calmPlant = createPlant({ burner, appliance, surroundings });
  const sampling = createSampling(instrument, plant.now(), STEP_MS);
  const calmSampling = createSampling(instrument, calmPlant.now(), STEP_MS);
  const display = createDisplay(instrument, seed);
  const pump = createRandom(seed, 'smoke pump');

  let left = scenario.geometry;
  let effects = effectsOf(left);
  const fire = createFire(seed);

  const calmInputs = (): PlantInputs => ({
    positions: standing.positions,
    amounts: standing.amounts,
    firing: fire.isLit(),
    geometry: effects,
    puffOil: fire.puffOil(),
    secondStage: standing.switches.secondStage,
    draftWanderPa: 0,
    flutter: 0,
  });
  const noisyInputs = (): PlantInputs => ({
    ...calmInputs(),
    draftWanderPa: noise.draftPa(),
    flutter: (standing.amounts.flutterFraction + effects.flutterFraction) * noise.flutter(),
  });
  const samplingInputs = () => ({
    amounts: standing.amounts,
    probeIn: standing.switches.probeIn,
    purge: standing.switches.purge,
    inlet: standing.inlet,
  });

  let nowMs = -Math.ceil(scenario.beforeS) * 1000;
  let lineIndex = 0;
  let outbox: SimulatedLine[] = [];
  const lineTimeMs = (index: number): number => Math.round((index * 1000) / ratePerSecond);

  const writeDueLines = (): void => {
    for (let timeMs = lineTimeMs(lineIndex); timeMs < nowMs + STEP_MS; timeMs = lineTimeMs(++lineIndex)) {
      const shown = display.read(sampling.now(), timeMs / MS_PER_HOUR);
      if (!standing.switches.plugged || display.isLost()) continue;
      const values = timeMs < instrument.warmUpS * 1000 ? 'warming-up' : shown;
      for (const text of writer.write(values, timeMs, standing.switches.purge)) outbox.push({ timeMs, text });
    }
  };
  const stepPhysics = (stepMs: number): readonly [noisy: FlueGas, calm: FlueGas] => {
    timeline.applyUntil(nowMs);
    noise.step(stepMs / 1000);
    fire.step(stepMs / 1000, standing.switches.firing, left);
    nowMs += stepMs;
    return [plant.step(noisyInputs(), stepMs / 1000), calmPlant.step(calmInputs(), stepMs / 1000)];
  };
  const step = (): void => {
    const [noisy, calm] = stepPhysics(STEP_MS);
    const inputs = samplingInputs();
    sampling.step(noisy, inputs);
    calmSampling.step(calm, inputs);
    if (nowMs >= 0) writeDueLines();
  };
  const moveTo = (timeMs: number): void => {
    while (nowMs + STEP_MS <= timeMs) step();
  };

  if (writer.header !== undefined) outbox.push({ timeMs: 0, text: writer.header });
  while (nowMs < -LISTENS_BEFORE_MS) stepPhysics(COARSE_STEP_MS);
  while (nowMs < 0) step();
  if (scenario.beforeS === 0) writeDueLines();

  const gauges = (atMs: number) => {
    moveTo(atMs);
    const { overFirePa, breechPa } = plant.now();
    const tenth = (value: number): number => Math.round(value * 10) / 10;
    return {
      overFirePa: tenth(overFirePa),
      breechPa: tenth(breechPa),
      pumpPressurePa: standing.amounts.pumpPressurePa,
      roomCoPpm: standing.amounts.roomCoPpm,
    };
  };

  return {
    header: writer.header,
    terminator: writer.terminator,
    channels: instrument.channels,
    ratePerSecond,
    advanceTo: (timeMs) => {
      moveTo(timeMs);
      const due = outbox.findIndex((line) => line.timeMs > timeMs);
      const lines = due < 0 ? outbox : outbox.slice(0, due);
      outbox = due < 0 ? [] : outbox.slice(due);
      return lines;
    },
    setAdjuster: (name, value, atMs) => {
      if (!isAdjuster(name)) return err(problem('request-invalid', burnerTexts.noAdjuster(name)));
      if (!Number.isFinite(value)) return err(problem('request-invalid', burnerTexts.needsNumber(name)));
      timeline.add({ atMs, overMs: 0, what: { kind: 'adjust', name, value } });
      return ok(onScale(name, value));
    },
    setStage: (stage, atMs) =>
      timeline.add({ atMs: Math.max(atMs, nowMs), overMs: 0, what: { kind: 'switch', name: 'secondStage', on: stage !== FIRST_STAGE } }),
    setPart: (name, value, atMs, overMs = 0) => {
      const what = readPartChange(name, value);
      if (what.kind === 'refused') return err(problem('request-invalid', what.why));
      if (what.kind === 'inlet') timeline.forget('inlet', atMs);
      timeline.add({ atMs: Math.max(atMs, nowMs), overMs, what });
      return ok(null);
    },
    setGeometry: (next) => {
      left = next;
      effects = effectsOf(next);
      fire.startsAnew();
    },
    adjusters: () => (['shutter', 'band'] as const).map((name) => ({ name, ...scales[name], value: standing.positions[name] })),
    parts: () => ({ amounts: { ...standing.amounts }, switches: { ...standing.switches }, inlet: standing.inlet }),
    isFiring: () => standing.switches.firing,
    isPlugged: () => standing.switches.plugged,
    smokeSpot: (atMs) => {
      moveTo(atMs);
      const { smoke, stackC } = plant.now();
      const { leakFraction, nozzleFault } = standing.amounts;
      const dripping = !standing.switches.firing && smoke > 0.5;
      return takeSpot(
        {
          smoke,
          stackC,
          leakFraction,
          oiliness: dripping ? 0.9 : Math.max(0, nozzleFault - 0.6, effects.oiliness),
          unevenShare: effects.unevenShare,
        },
        pump,
      );
    },
    draft: (atMs) => {
      const { overFirePa, breechPa } = gauges(atMs);
      return { overFirePa, breechPa };
    },
    gauges,
    truth: (atMs) => {
      moveTo(atMs);
      const hours = nowMs / MS_PER_HOUR;
      const rest = calmPlant.atRest(calmInputs());
      const inputs = samplingInputs();
      const watched = rest !== undefined && inputs.probeIn && !inputs.purge && inputs.inlet === undefined ? rest : undefined;
      const onset = rest?.onsetO2 ?? burner.smokeOnsetO2;
      return {
        firing: standing.switches.firing,
        shown: withErrors(calmSampling.now(), instrument, hours),
        headingFor:
          watched &&
          withErrors(
            { ...sampledGas(watched, inputs), stackC: watched.stackC, airC: watched.airC, draftPa: watched.breechPa },
            instrument,
            hours,
          ),
        flue: calmPlant.now(),
        smokeOnsetO2: onset,
        smokeOnsetO2AtProbe: sampledGas(
          { o2Percent: onset, coPpm: 0, h2Ppm: 0 },
          { ...inputs, inlet: undefined, purge: false, probeIn: true },
        ).o2Percent,
        smokeAtRest: rest?.smoke,
      };
    },
  };
}
