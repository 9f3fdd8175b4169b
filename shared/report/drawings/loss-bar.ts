import { linear, n, svg } from './svg.ts';

/** Percent of the heat input, in order; the first is what is kept. */
export type LossBarPicture = { readonly parts: readonly { readonly name: string; readonly percent: number }[]; readonly label: string };

const HEIGHT = 14;

/** Where the heat goes: one bar of 100, the kept part solid, each loss parted by a white line and hatched by its own slope. */
export function lossBar({ parts, label }: LossBarPicture, width: number): string {
  const total = parts.reduce((sum, { percent }) => sum + Math.max(0, percent), 0);
  const scale = linear(0, Math.max(100, total), 0, width);
  let from = 0;
  const drawn = parts.map(({ percent }, index) => {
    const start = scale(from);
    from += Math.max(0, percent);
    const fill = index === 0 ? 'class="f-acc"' : `fill="url(#loss-${index % 2})"`;
    return `<rect ${fill} x="${n(start)}" y="1" width="${n(Math.max(0, scale(from) - start - (index === parts.length - 1 ? 0 : 1.5)))}" height="${HEIGHT - 2}"/>`;
  });
  const hatch = [0, 1]
    .map(
      (index) =>
        `<pattern id="loss-${index}" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(${index === 0 ? 45 : -45})"><path class="k-2" stroke-width="2.4" d="M0 0V5"/></pattern>`,
    )
    .join('');
  return svg(
    width,
    HEIGHT,
    label,
    `<defs>${hatch}</defs>${drawn.join('')}<path class="k-edge" d="M.5 .5H${n(width - 0.5)}V${HEIGHT - 0.5}H.5Z"/>`,
  );
}
