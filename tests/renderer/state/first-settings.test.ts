import { expect, it } from 'vitest';
import { firstSettings } from '../../../renderer/state/first-settings.ts';
import { Settings } from '../../../shared/ipc/settings.ts';

it('the settings of a window that was not greeted yet are the presets', () => {
  expect(firstSettings).toEqual(Settings.parse({}));
});
