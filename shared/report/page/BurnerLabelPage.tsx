import { MISSING_LETTERS_CLASS } from '../other-scripts.ts';
import { Words } from '../drawings/Drawing.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import type { BurnerLabel } from '../report-model.ts';

/** more rows than this are set closer */
const MOST_AT_EASE = 10;

/** The card that hangs at the burner, 90 x 130 mm: as left, and when the next visit is due. */
export function BurnerLabelPage({ label }: { label: BurnerLabel }) {
  return (
    <main className="label">
      <div className="hole" aria-hidden="true" />
      <header>
        <div>
          <h1>{label.title}</h1>
          <p>
            <Words text={label.about} />
          </p>
        </div>
        <b>{label.day}</b>
      </header>
      {label.warning !== undefined && (
        <p className="warning">
          <VerdictSign verdict="alarm" size={22} />
          <b>
            <Words text={label.warning} />
          </b>
        </p>
      )}
      <dl className={label.rows.length > MOST_AT_EASE ? 'many' : undefined}>
        {label.rows.map(({ name, value, unit }, index) => (
          <div key={index}>
            <dt>
              <Words text={name} />
            </dt>
            <dd className="figure">
              <b>{value}</b> {unit}
            </dd>
          </div>
        ))}
      </dl>
      <section>
        <p>{label.due.title}</p>
        <b className="due">{label.due.text}</b>
      </section>
      <footer>
        <div>
          <p className={MISSING_LETTERS_CLASS} hidden />
          {label.foot.map((line, index) => (
            <p key={index}>
              <Words text={line} />
            </p>
          ))}
        </div>
        <div>
          {label.side.map((line, index) => (
            <p key={index} className={index === 0 ? undefined : 'mono'}>
              {line}
            </p>
          ))}
        </div>
      </footer>
    </main>
  );
}
