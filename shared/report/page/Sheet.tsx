import type { ReactNode } from 'react';
import { Words } from '../drawings/Drawing.tsx';

type Props = {
  readonly name?: string;
  /** what this is not, across the head of every page */
  readonly tape: string | undefined;
  readonly foot: { readonly cautions: string; readonly run: string };
  readonly children: ReactNode;
};

/**
 * A stretch of pages. On paper tape and foot belong to the page itself; on screen the browser breaks `flow` into pages of the same height, and
 * `page-edges` holds tape and foot: once as it is written here, once for every page when a window shows it.
 */
export function Sheet({ name, tape, foot, children }: Props) {
  return (
    <section className={name === undefined ? 'sheet' : `sheet ${name}`}>
      <div className="flow">{children}</div>
      <div className="page-edges">
        {tape !== undefined && (
          <p className="tape" role="note">
            {tape}
          </p>
        )}
        <div className="screen-foot">
          <span>
            <Words text={foot.cautions} />
          </span>
          <span className="nw r">
            <span className="page-number" />
            {foot.run !== '' && <span className="mono">{foot.run}</span>}
          </span>
        </div>
      </div>
    </section>
  );
}
