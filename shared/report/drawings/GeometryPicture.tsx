import type { Picture } from '../../geometry/drawing/picture-mark.ts';

/** The marks of a picture, drawn; what they look like is said in renderer/look/drawings.css. */
export function GeometryPicture({
  picture,
  label,
  unitMm,
}: {
  picture: Picture;
  label?: string;
  /** mm of paper for one drawing unit; without it a unit is a pixel */
  unitMm?: number;
}) {
  const { width, height, marks } = picture;
  const shown = (units: number): number | string => (unitMm === undefined ? units : `${Number((units * unitMm).toFixed(3))}mm`);
  return (
    <svg
      className="geometry-picture"
      width={shown(width)}
      height={shown(height)}
      viewBox={`0 0 ${width} ${height}`}
      {...(label === undefined ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label })}
    >
      {marks.map((mark, index) => {
        switch (mark.kind) {
          case 'path':
            return <path key={index} className={mark.look} strokeWidth={mark.width} d={mark.d} />;
          case 'circle':
            return <circle key={index} className={mark.look} strokeWidth={mark.width} cx={mark.x} cy={mark.y} r={mark.r} />;
          case 'text':
            return (
              <text
                key={index}
                className={mark.look}
                x={mark.x}
                y={mark.y}
                textAnchor={mark.anchor ?? 'start'}
                style={{ fontSize: mark.size }}
              >
                {mark.text}
              </text>
            );
        }
      })}
    </svg>
  );
}
