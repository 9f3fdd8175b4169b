/**
 * Parts of the window that a test never waited for may still be on their way when its file is over: they come before its world is taken down. And the next
 * file begins with an empty page.
 */
import { afterAll, vi } from 'vitest';

afterAll(async () => {
  await vi.dynamicImportSettled();
  if (typeof document === 'undefined') return;
  document.body.replaceChildren();
  for (const element of [document.documentElement, document.body])
    for (const { name } of [...element.attributes]) element.removeAttribute(name);
  localStorage.clear();
});
