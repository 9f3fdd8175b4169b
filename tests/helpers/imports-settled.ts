/** Parts of the window that a test never waited for may still be on their way when its file is over: they come before its world is taken down. */
import { afterAll, vi } from 'vitest';

afterAll(() => vi.dynamicImportSettled());
