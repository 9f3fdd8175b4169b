// @vitest-environment happy-dom
/** The alarm on the bench: above the bar, so that the main button stays where it is; none of a source once nothing is measured any more. */
import { cleanup, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { BenchFrame } from '../../../renderer/views/bench/BenchFrame.tsx';
import { problem, type ProblemCode } from '../../../shared/problem.ts';

afterEach(cleanup);

function show(code: ProblemCode, isMeasured: boolean): void {
  const store = createAppStore();
  store.setState({ standing: [{ key: 'one', problem: problem(code) }] } as never);
  const parts = { store, keys: createKeys(), actions: { ask: () => Promise.resolve(undefined) } } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <BenchFrame title="Test" says="" main={{ text: 'Next', run: () => undefined }} isMeasured={isMeasured}>
        work
      </BenchFrame>
    </AppContext>,
  );
}

describe('an alarm on the bench', () => {
  it('is above the bar with the main button', () => {
    show('source-silent', true);
    const alarm = screen.getByRole('alert');
    expect(alarm.compareDocumentPosition(screen.getByRole('button', { name: /Next/ })) & Node.DOCUMENT_POSITION_FOLLOWING).toBeTruthy();
  });

  it.each(['source-silent', 'port-lost'] as const)('is not raised for a source once the round is done: %s', (code) => {
    show(code, false);
    expect(screen.queryByRole('alert')).toBeNull();
  });

  it('is raised for what endangers the record, also once the round is done', () => {
    show('disk-full', false);
    expect(screen.getByRole('alert')).toBeDefined();
  });
});
