/** Runs in the browser: pan and zoom of twenty warm-up curves, ours and uPlot in turn, each in its own loop of animation frames. Bundled by overlay.ts. */
import uPlot from 'uplot';
import { createOverlayChart } from '../../renderer/charts/create-overlay-chart.ts';
import { curveDashes, type OverlayCurve } from '../../renderer/charts/overlay-content.ts';
import { captureCurve } from '../../shared/warm-up/capture.ts';

export type OverlayTimes = { readonly framesPerSecond: number; readonly scriptMs: number; readonly scriptP95Ms: number };
export type OverlayResult = {
  readonly library: OverlayTimes;
  readonly raw: OverlayTimes;
  readonly uplot: OverlayTimes;
  readonly uplotLibrary: OverlayTimes;
  readonly points: number;
};

const WIDTH = 840;
const HEIGHT = 500;
const CURVES = 20;
const SECONDS = 1800;
const RATE = 10;

type Columns = { x: Float64Array; ys: Float64Array[] };
function made(): Columns {
  let state = 977;
  const random = (): number => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  const count = SECONDS * RATE;
  const x = Float64Array.from({ length: count }, (_, i) => i / RATE);
  const ys = Array.from({ length: CURVES }, (_, k) => {
    const [end, fast, slow, share] = [180 + 5 * k, 60 + 6 * k, 400 + 40 * k, 0.2 + 0.01 * k];
    return Float64Array.from(
      x,
      (t) => end - (end - 20) * ((1 - share) * Math.exp(-t / fast) + share * Math.exp(-t / slow)) + random() - 0.5,
    );
  });
  return { x, ys };
}

/** The same way for all three: in, out, and from side to side. */
function rangeAt(frame: number, frames: number): { fromS: number; toS: number } {
  const part = frame / frames;
  const span = SECONDS * (0.12 + 0.88 * Math.abs(Math.cos(2 * Math.PI * part)));
  const middle = SECONDS * (0.5 + 0.35 * Math.sin(6 * Math.PI * part));
  return { fromS: middle - span / 2, toS: middle + span / 2 };
}

const quantile = (values: readonly number[], part: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(part * values.length))] ?? 0;

/** Draws in each frame; frames a second from the median time between two frames. */
function loop(frames: number, draw: (range: { fromS: number; toS: number }) => void): Promise<OverlayTimes> {
  return new Promise((done) => {
    const between: number[] = [];
    const script: number[] = [];
    let before: number | undefined;
    let frame = 0;
    const step = (now: number): void => {
      if (before !== undefined) between.push(now - before);
      before = now;
      const a = performance.now();
      draw(rangeAt(frame, frames));
      script.push(performance.now() - a);
      frame++;
      if (frame < frames) requestAnimationFrame(step);
      else
        done({
          framesPerSecond: 1000 / quantile(between.slice(5), 0.5),
          scriptMs: quantile(script.slice(5), 0.5),
          scriptP95Ms: quantile(script.slice(5), 0.95),
        });
    };
    requestAnimationFrame(step);
  });
}

async function measure(frames: number): Promise<OverlayResult> {
  const { x, ys } = made();
  const words = { band: undefined, points: [], decimals: 0, unit: '°C', minutes: (text: string) => `${text} min`, lightOff: 'light-off' };
  const curveOf = (k: number, seconds: ArrayLike<number>, values: ArrayLike<number>): OverlayCurve => ({
    id: String(k),
    label: `${k + 1} curve`,
    style: k + 1,
    strong: false,
    points: Array.from(seconds, (at, i) => ({ x: at, y: values[i] as number })),
  });
  const timeMs = Array.from(x, (at) => at * 1000);
  const library = ys.map((values, k) => {
    const about = { name: String(k), runId: String(k), capturedWallMs: 0, source: 'port' as const, startState: 'cold' as const, tags: [] };
    const curve = captureCurve({
      about,
      columns: { stackTemperature: { timeMs, values: [...values] } },
      readings: [],
      lightOffMs: 0,
      withoutFit: true,
    });
    const kept = curve.channels.stackTemperature;
    return curveOf(k, kept?.seconds ?? [], kept?.values ?? []);
  });
  const raw = ys.map((values, k) => curveOf(k, x, values));
  const ours = async (curves: readonly OverlayCurve[]): Promise<OverlayTimes> => {
    document.body.innerHTML = `<div style="width:${WIDTH}px;height:${HEIGHT}px"><canvas></canvas></div>`;
    const chart = createOverlayChart(document.querySelector('canvas') as HTMLCanvasElement);
    const times = await loop(frames, (range) => chart.draw({ ...words, curves }, range));
    chart.destroy();
    return times;
  };
  const theirs = async (data: uPlot.AlignedData): Promise<OverlayTimes> => {
    document.body.innerHTML = '<div id="plot"></div>';
    const plot = new uPlot(
      {
        width: WIDTH,
        height: HEIGHT,
        scales: { x: { time: false } },
        series: [{}, ...ys.map((_, k) => ({ stroke: '#456', width: k + 1 > 5 ? 1 : 2.5, dash: [...(curveDashes[k + 1] ?? [])] }))],
      },
      data,
      document.getElementById('plot') as HTMLElement,
    );
    const times = await loop(frames, ({ fromS, toS }) => plot.batch(() => plot.setScale('x', { min: fromS, max: toS })));
    plot.destroy();
    return times;
  };
  // all curves have the same times here, so that uPlot's aligned columns take them as they are
  const thinned: uPlot.AlignedData = [
    library[0]?.points.map((point) => point.x) ?? [],
    ...library.map(({ points }) => points.map(({ y }) => y)),
  ];
  return {
    library: await ours(library),
    uplotLibrary: await theirs(thinned),
    raw: await ours(raw),
    uplot: await theirs([x, ...ys]),
    points: library[0]?.points.length ?? 0,
  };
}

Object.assign(globalThis, { measureOverlay: measure });
