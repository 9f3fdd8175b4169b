import { writtenLength as n, type Picture, type PictureMark } from './picture-mark.ts';

export type CloseUp = {
  readonly width: number;
  readonly height: number;
  /** mm, or marks */
  readonly value: number | undefined;
  readonly limits: { readonly low: number; readonly high: number } | undefined;
  readonly verdict: 'pass' | 'fail' | 'none';
  readonly target: number | undefined;
  /** one tick, and how many of them carry a figure */
  readonly tick: number;
  readonly labelEvery: number;
  readonly label: (value: number) => string;
  /** how far the reading may be off, half */
  readonly half: number;
};

/** The scale beside the drawing: slot, measured value with its whisker, and an arrow that points the way to move. */
export function closeUpPicture({ width, height, value, limits, verdict, target, tick, labelEvery, label, half }: CloseUp): Picture {
  const ends = [
    value,
    target,
    Number.isFinite(limits?.low) ? limits?.low : undefined,
    Number.isFinite(limits?.high) ? limits?.high : undefined,
  ].filter((one) => one !== undefined);
  if (ends.length === 0) return { width, height, marks: [] };
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const middle = Math.round((least + most) / 2 / tick) * tick;
  const reach = Math.max(4 * tick, Math.ceil((most - least) / 2 / tick + 1.6) * tick);
  const from = Math.max(0, middle - reach);
  const to = from + 2 * reach;
  const x = 22;
  const y = (one: number): number => height - 12 - ((one - from) / (to - from)) * (height - 24);
  const marks: PictureMark[] = [{ kind: 'path', d: `M${x} ${n(y(from))}V${n(y(to))}`, look: 'g-edge', width: 1 }];
  const count = Math.round((to - from) / tick);
  const thin = Math.max(1, Math.ceil(count / 12));
  for (let index = 0; index <= count; index += 1) {
    const at = from + index * tick;
    const isLabelled = Math.round(at / tick) % (labelEvery * thin) === 0;
    if (!isLabelled && thin > 1) continue;
    marks.push({ kind: 'path', d: isLabelled ? `M${x - 8} ${n(y(at))}h16` : `M${x - 5} ${n(y(at))}h10`, look: 'g-edge', width: 1 });
    if (isLabelled) marks.push({ kind: 'text', x: x + 26, y: y(at) + 5, text: label(at), look: 'g-text-second', size: 16 });
  }
  if (limits !== undefined) {
    const [w, t] = [18, 10];
    const high = Number.isFinite(limits.high)
      ? `M${x - w} ${n(y(limits.high) + t)}V${n(y(limits.high))}H${x + w}V${n(y(limits.high) + t)}`
      : '';
    const low = Number.isFinite(limits.low) ? `M${x - w} ${n(y(limits.low) - t)}V${n(y(limits.low))}H${x + w}V${n(y(limits.low) - t)}` : '';
    marks.push({ kind: 'path', d: high + low, look: 'g-accent', width: 3.5 });
  }
  if (value === undefined) return { width, height, marks };
  const at = y(value);
  const whisker = Math.max(4, (half / (to - from)) * (height - 24));
  const look = verdict === 'fail' ? 'g-alarm' : verdict === 'pass' ? 'g-accent' : 'g-second';
  if (half > 0)
    marks.push({
      kind: 'path',
      d: `M${x} ${n(at - whisker)}V${n(at + whisker)}M${x - 6} ${n(at - whisker)}h12M${x - 6} ${n(at + whisker)}h12`,
      look,
      width: 2.5,
    });
  if (verdict === 'fail') {
    marks.push({ kind: 'path', d: `M${x - 9} ${n(at - 9)}l18 18M${x + 9} ${n(at - 9)}l-18 18`, look, width: 4.5 });
    if (target !== undefined) {
      const way = target > value ? -1 : 1;
      const [start, end] = [at + way * 16, y(target) - way * 4];
      if ((end - start) * way > 10)
        marks.push({ kind: 'path', d: `M${x} ${n(start)}V${n(end)}m-7 ${-way * 9}l7 ${way * 9}l7 ${-way * 9}`, look: 'g-ink', width: 2.5 });
    }
  } else marks.push({ kind: 'path', d: `M${x - 9} ${n(at)}h18`, look: verdict === 'pass' ? 'g-pin' : 'g-second', width: 9 });
  return { width, height, marks };
}
