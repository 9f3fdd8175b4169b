/** What every screen of the bench shares: title row, work, right column, one sentence and one main button at the bottom right. */
import type { ReactNode } from 'react';
import { bench as words } from '../../../shared/words/bench/bench.ts';
import { common } from '../../../shared/words/common.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { HostAlert } from '../../components/alerts/HostAlert.tsx';
import { Key } from '../../components/Key.tsx';
import { useRest } from '../../components/use-rest.ts';
import { useKey } from '../../keys/use-key.ts';
import './BenchFrame.css';

export type MainDeed = { text: string; run: () => void; blocked?: boolean | undefined; key?: 'main' | 'mark' };

type Props = {
  title: string;
  /** in the place of the title: the switch to the others that are looked at in the same way */
  turn?: ReactNode;
  about?: ReactNode;
  tools?: ReactNode;
  children: ReactNode;
  right?: ReactNode;
  says: ReactNode;
  others?: ReactNode;
  main?: MainDeed | undefined;
  back?: (() => void) | undefined;
  /** a round is under way or prepared: a source that goes away is an alarm */
  isMeasured?: boolean;
};

export function BenchFrame({ title, turn, about, tools, children, right, says, others, main, back, isMeasured = true }: Props) {
  useKey('back', () => back?.(), back !== undefined);
  const isResting = useRest(main?.text ?? '');
  // in a field Enter does what the main button says, as everywhere else on the screen
  const onKeyDown = (event: KeyboardEvent): void => {
    const { key, target, defaultPrevented, ctrlKey, altKey, metaKey, repeat, isComposing } = event;
    if (key !== 'Enter' || ctrlKey || altKey || metaKey || repeat || isComposing || defaultPrevented) return;
    if (main === undefined || main.blocked === true || isResting) return;
    if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement) || target.matches('[type=checkbox], :open')) return;
    if (target.closest('dialog') !== null) return;
    event.preventDefault();
    main.run();
  };
  return (
    <div className="bench" onKeyDown={(event) => onKeyDown(event.nativeEvent)}>
      <div className="bench-head" data-region="tools" role="region" aria-label={words.regions.tools}>
        <h1 className={turn === undefined ? undefined : 'hidden-text'}>{title}</h1>
        {turn}
        {about !== undefined && <span className="second bench-about">{about}</span>}
        <span className="grow" />
        {tools}
        {back !== undefined && (
          <button type="button" className="button" onClick={back}>
            {common.back} <Key action="back" />
          </button>
        )}
      </div>
      <div className="bench-main" data-region="main" role="group" aria-label={title}>
        <div className="bench-work" tabIndex={0} role="region" aria-label={words.regions.work}>
          {children}
        </div>
        {right !== undefined && (
          <aside className="bench-right" data-region="right" tabIndex={0} aria-label={words.regions.right}>
            {right}
          </aside>
        )}
      </div>
      {/* above the bar: the main button stays where it is when an alarm comes */}
      <HostAlert isMeasured={isMeasured} />
      <footer className="bar bench-bar" data-region="bar" aria-label={words.regions.bar}>
        <p className="says" role="status">
          {typeof says === 'string' ? <ChannelName text={says} /> : says}
        </p>
        <span className="grow" />
        {others}
        {main !== undefined && <MainDeedButton deed={main} isResting={isResting} />}
      </footer>
    </div>
  );
}

function MainDeedButton({ deed, isResting }: { deed: MainDeed; isResting: boolean }) {
  const blocked = deed.blocked === true;
  const active = !blocked && !isResting;
  useKey('main', deed.run, active);
  useKey('mark', deed.run, active && deed.key === 'mark');
  return (
    <button type="button" className="button main" disabled={blocked} aria-disabled={isResting} onClick={() => isResting || deed.run()}>
      {deed.text} <Key action={deed.key ?? 'main'} />
    </button>
  );
}
