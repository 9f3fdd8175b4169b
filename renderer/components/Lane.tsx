/** The slot and the pin: where a channel stands against where it is heading. Told by shape; colour only repeats it. */
import type { StateName } from '../../shared/measurement/state.ts';
import { laneGeometry, laneSizes, pinOffset, type LaneSizeName } from './lane-geometry.ts';

type Props = {
  state: StateName;
  size?: LaneSizeName;
  /** value now minus where it is heading, in bands: negative stands left */
  bandsAway?: number | undefined;
  /** which way it moves: -1, 0, 1 */
  direction?: number | undefined;
};

export function Lane({ state, size = 'normal', bandsAway = 0, direction = 0 }: Props) {
  const dimensions = laneSizes[size];
  const { width, height } = dimensions;
  return (
    <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true" data-state={state}>
      <LaneShape state={state} size={size} bandsAway={bandsAway} direction={direction} />
    </svg>
  );
}

function LaneShape({
  state,
  size,
  bandsAway,
  direction,
}: Required<Pick<Props, 'state' | 'size'>> & { bandsAway: number; direction: number }) {
  const g = laneGeometry(laneSizes[size]);
  switch (state) {
    case 'settled':
      return (
        <>
          <Scale size={size} />
          <rect
            className="fill-accent-soft"
            x={g.middle - g.slotHalf}
            y={g.centre - g.slotTall}
            width={2 * g.slotHalf}
            height={2 * g.slotTall}
          />
          <Slot size={size} className="stroke-accent" />
          <rect className="fill-accent" x={g.middle - g.pinWide / 2} y={g.centre - g.pinTall / 2} width={g.pinWide} height={g.pinTall} />
        </>
      );
    case 'settling': {
      const side = bandsAway === 0 ? -(direction || 1) : bandsAway;
      const offset = pinOffset(side, laneSizes[size]);
      const line = 2.5 * g.u;
      return (
        <>
          <Scale size={size} />
          <Slot size={size} className="stroke-second" />
          <rect
            className="fill-ground pin"
            stroke="var(--ink)"
            strokeWidth={line}
            x={-g.pinWide / 2 + line / 4}
            y={g.centre - g.pinTall / 2}
            width={g.pinWide - line / 2}
            height={g.pinTall}
            style={{ transform: `translateX(${(g.middle + offset).toFixed(1)}px)` }}
          />
        </>
      );
    }
    case 'moving':
      return (
        <>
          <Scale size={size} />
          <Slot size={size} className="stroke-third" broken />
          {direction !== 0 && <Chevrons size={size} direction={direction} />}
        </>
      );
    case 'drifting':
      return (
        <>
          <Axis size={size} />
          <Slot size={size} className="stroke-third" broken />
          <PassingChevrons size={size} direction={direction} />
        </>
      );
    case 'surging':
      return (
        <>
          <Slot size={size} className="stroke-third" broken />
          <ToAndFro size={size} />
        </>
      );
    case 'suspect': {
      const radius = 16 * g.u;
      const x = g.middle + g.slotHalf + radius * 0.92 + 4 * g.u;
      const arm = 6 * g.u;
      return (
        <>
          <Scale size={size} />
          <Slot size={size} className="stroke-second" />
          <path
            className="stroke-notice"
            style={{ fill: 'var(--ground)' }}
            strokeWidth={3 * g.u}
            d={`M${x} ${g.centre - radius}l${radius} ${radius}l${-radius} ${radius}l${-radius} ${-radius}z`}
          />
          <path
            className="stroke-notice"
            strokeWidth={3 * g.u}
            d={`M${x - arm} ${g.centre - arm}l${2 * arm} ${2 * arm}m0 ${-2 * arm}l${-2 * arm} ${2 * arm}`}
          />
        </>
      );
    }
    case 'absent':
      return <Slot size={size} className="stroke-third" broken />;
    case 'silent': {
      const inner = 12 * g.u;
      const lean = 6 * g.u;
      const tall = 10 * g.u;
      const { width } = laneSizes[size];
      return (
        <path
          className="stroke-alarm"
          strokeWidth={3 * g.u}
          d={`M${g.margin} ${g.centre}H${g.middle - inner}m${lean} ${-tall}l${-lean} ${2 * tall}M${width - g.margin} ${g.centre}H${g.middle + inner}m${lean} ${-tall}l${-lean} ${2 * tall}`}
        />
      );
    }
  }
}

function Scale({ size }: { size: LaneSizeName }) {
  const g = laneGeometry(laneSizes[size]);
  const { width } = laneSizes[size];
  const ticks = g.ticks.map((offset) => `M${(g.middle + offset).toFixed(1)} ${g.centre - g.tickTall / 2}v${g.tickTall}`).join('');
  return (
    <>
      <path
        className="stroke-edge"
        strokeWidth={g.u}
        d={`M${g.margin} ${g.centre}H${g.middle - g.slotHalf}M${g.middle + g.slotHalf} ${g.centre}H${width - g.margin}`}
      />
      <path className="stroke-edge" d={ticks} />
    </>
  );
}

function Slot({ size, className, broken = false }: { size: LaneSizeName; className: string; broken?: boolean }) {
  const g = laneGeometry(laneSizes[size]);
  const [left, right, top, bottom] = [g.middle - g.slotHalf, g.middle + g.slotHalf, g.centre - g.slotTall, g.centre + g.slotTall];
  return (
    <path
      className={className}
      strokeWidth={g.slotLine}
      strokeDasharray={broken ? `${14 * g.u} ${4 * g.u}` : undefined}
      d={`M${left + g.slotArm} ${top}H${left}V${bottom}H${left + g.slotArm}M${right - g.slotArm} ${top}H${right}V${bottom}H${right - g.slotArm}`}
    />
  );
}

/** One line through the slot. */
function Axis({ size }: { size: LaneSizeName }) {
  const g = laneGeometry(laneSizes[size]);
  return <path className="stroke-edge" strokeWidth={g.u} d={`M${g.margin} ${g.centre}H${laneSizes[size].width - g.margin}`} />;
}

/** One chevron before the slot, one in it, one past it: it does not stop there. */
function PassingChevrons({ size, direction }: { size: LaneSizeName; direction: number }) {
  const g = laneGeometry(laneSizes[size]);
  const lean = (direction < 0 ? -1 : 1) * 5.4 * g.u;
  const tall = 10.8 * g.u;
  const apart = 37.7 * g.u;
  return [-1, 0, 1].map((place) => {
    const d = `M${g.middle + place * apart - lean} ${g.centre - tall}l${2 * lean} ${tall}l${-2 * lean} ${tall}`;
    return (
      <g key={place}>
        <path style={{ fill: 'none', stroke: 'var(--ground)' }} strokeWidth={8.5 * g.u} d={d} />
        <path className="stroke-ink" strokeWidth={3.8 * g.u} d={d} />
      </g>
    );
  });
}

/** A hollow bar at each end of the lane, an arrow both ways between them across the slot. */
function ToAndFro({ size }: { size: LaneSizeName }) {
  const g = laneGeometry(laneSizes[size]);
  const { width } = laneSizes[size];
  const left = 10.8 * g.u;
  const from = 26 * g.u;
  const head = 7.3 * g.u;
  return (
    <>
      <path
        className="stroke-ink"
        strokeWidth={2.6 * g.u}
        d={`M${from} ${g.centre}H${width - from}M${from + head} ${g.centre - head}l${-head} ${head}l${head} ${head}M${width - from - head} ${g.centre - head}l${head} ${head}l${-head} ${head}`}
      />
      {[left, width - left - g.pinWide].map((x) => (
        <rect
          key={x}
          className="fill-ground"
          stroke="var(--ink)"
          strokeWidth={2.5 * g.u}
          x={x}
          y={g.centre - g.pinTall / 2}
          width={g.pinWide}
          height={g.pinTall}
        />
      ))}
    </>
  );
}

/** Three chevrons pointing the way it goes: from the left when it rises, from the right when it falls. */
function Chevrons({ size, direction }: { size: LaneSizeName; direction: number }) {
  const g = laneGeometry(laneSizes[size]);
  const { width } = laneSizes[size];
  const wide = 9 * g.u;
  const tall = 11 * g.u;
  const falling = direction < 0;
  const d = [0, 1, 2]
    .map((index) => {
      const start = 3 * g.u + index * 10 * g.u;
      return falling
        ? `M${width - start} ${g.centre - tall}l${-wide} ${tall}l${wide} ${tall}`
        : `M${start} ${g.centre - tall}l${wide} ${tall}l${-wide} ${tall}`;
    })
    .join('');
  return <path className="stroke-ink" strokeWidth={3.5 * g.u} d={d} />;
}
