import { linear, n } from './coordinates.ts';
import { Drawing } from './Drawing.tsx';

/** Percent of the heat input, in order; the first is what is kept. */
export type LossBarPicture = { readonly parts: readonly { readonly name: string; readonly percent: number }[]; readonly label: string };

const WIDTH = 672;
const HEIGHT = 14;

/** Where the heat goes: one bar of 100, the kept part solid, each loss parted by a white line and hatched by its own slope. */
export function LossBar({ picture: { parts, label } }: { picture: LossBarPicture }) {
  const total = parts.reduce((sum, { percent }) => sum + Math.max(0, percent), 0);
  const scale = linear(0, Math.max(100, total), 0, WIDTH);
  const starts = parts.map((_, index) => parts.slice(0, index).reduce((sum, { percent }) => sum + Math.max(0, percent), 0));
  return (
    <Drawing width={WIDTH} height={HEIGHT} label={label}>
      <defs>
        {[0, 1].map((slope) => (
          <pattern
            key={slope}
            id={`loss-${slope}`}
            width="5"
            height="5"
            patternUnits="userSpaceOnUse"
            patternTransform={`rotate(${slope === 0 ? 45 : -45})`}
          >
            <path className="stroke-second" strokeWidth="2.4" d="M0 0V5" />
          </pattern>
        ))}
      </defs>
      {parts.map(({ name, percent }, index) => {
        const [from, to] = [scale(starts[index] ?? 0), scale((starts[index] ?? 0) + Math.max(0, percent))];
        const fill = index === 0 ? { className: 'fill-accent' } : { fill: `url(#loss-${index % 2})` };
        const gap = index === parts.length - 1 ? 0 : 1.5;
        return <rect key={name} {...fill} x={n(from)} y="1" width={n(Math.max(0, to - from - gap))} height={HEIGHT - 2} />;
      })}
      <path className="stroke-edge" d={`M.5 .5H${WIDTH - 0.5}V${HEIGHT - 0.5}H.5Z`} />
    </Drawing>
  );
}
