import { afterEach, expect } from 'vitest';
import { events } from '../../../shared/ipc/contract.ts';
import { createTestRunService } from '../../helpers/ports/run-service.ts';

const made: ReturnType<typeof createTestRunService>[] = [];
export const testRunService = (more: Parameters<typeof createTestRunService>[0] = {}) => {
  const one = createTestRunService(more);
  made.push(one);
  return one;
};

/** Every run service is closed, and every event it published is what the contract says. */
export function closeAfterEachTest(): void {
  afterEach(async () => {
    for (const { runService, events: published, remove } of made.splice(0)) {
      await runService.close();
      remove();
      // every event is what the contract says
      for (const { name, payload } of published) expect(events[name].safeParse(payload).error?.issues ?? []).toEqual([]);
    }
  });
}
