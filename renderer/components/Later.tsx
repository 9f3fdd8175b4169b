/**
 * Parts of the window whose script comes later: when they are first shown, or before that while nothing else is to be done. One that is here already
 * is drawn at once; `React.lazy` would show its stand-in for a moment even then.
 */
import { Suspense, use, type ComponentType, type ReactNode } from 'react';
import { common } from '../../shared/words/common.ts';
import { useKey } from '../keys/use-key.ts';
import { BrokenSlot } from './Signs.tsx';

const loaders = new Set<() => Promise<unknown>>();
const failed = new Set<() => void>();

/** What could not be fetched is fetched anew when it is shown next. */
export function tryAgain(): void {
  for (const forget of failed) forget();
  failed.clear();
}

/** @param load an `import()` */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  let loading: Promise<ComponentType<P>> | undefined;
  const begin = (): Promise<ComponentType<P>> => {
    if (loading !== undefined) return loading;
    const begun = load();
    begun.then(
      // React does not wait for a promise that is marked so
      (value) => Object.assign(begun, { status: 'fulfilled', value }),
      // not fetched again by itself: its part of the window says so and asks
      () => failed.add(() => (loading = undefined)),
    );
    return (loading = begun);
  };
  loaders.add(begin);
  return function Later(props: P) {
    const Part = use(begin());
    return <Part {...props} />;
  };
}

/** Fetches one after the other. What cannot be fetched now is asked for when it is shown, and its part of the window says so then. */
export async function loadTheRest(whenIdle: () => Promise<void>): Promise<void> {
  for (const load of loaders) {
    await whenIdle();
    await load().catch(() => undefined);
  }
}

export const Opening = ({ text = common.loading }: { text?: string }) => (
  <div className="loading">
    <BrokenSlot />
    {text}
  </div>
);

/** Where a part takes the whole place: never empty while it comes. @param back what Escape does meanwhile; the part's own key follows it */
export const Place = ({ children, back }: { children: ReactNode; back?: () => void }) => (
  <Suspense fallback={back === undefined ? <Opening /> : <OpeningPanel back={back} />}>{children}</Suspense>
);

function OpeningPanel({ back }: { back: () => void }) {
  useKey('back', back);
  return <Opening />;
}
