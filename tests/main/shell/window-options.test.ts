import { describe, expect, it } from 'vitest';
import { pdfOptions, printWindowOptions, windowOptions } from '../../../main/shell/window-options.ts';

/** Every web preference that Electron's security tutorial ("Security, Native Capabilities, and Your Responsibility") names, with the value it asks for. */
const checklist = {
  nodeIntegration: false, // 2: no Node for pages
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  contextIsolation: true, // 3
  sandbox: true, // 4
  webSecurity: true, // 6
  allowRunningInsecureContent: false, // 8
  experimentalFeatures: false, // 9
  enableBlinkFeatures: '', // 10
  webviewTag: false, // 11: no guests to begin with
};

const place = { width: 1280, height: 800, minWidth: 1024, minHeight: 700 };
const make = (isPackaged: boolean) => windowOptions({ place, preload: '/app/preload.cjs', icon: undefined, isDark: true, isPackaged });

describe('the window', () => {
  it.each(Object.entries(checklist))('has %s = %s', (name, value) => {
    expect(make(true).webPreferences).toHaveProperty(name, value);
    expect(printWindowOptions().webPreferences).toHaveProperty(name, value);
  });

  it('loads nothing but our preload, takes no dropped page, and has no tools once it is packaged', () => {
    expect(make(true).webPreferences).toMatchObject({
      preload: '/app/preload.cjs',
      navigateOnDragDrop: false,
      plugins: false,
      devTools: false,
    });
    expect(make(false).webPreferences.devTools).toBe(true);
  });

  it('goes on at full speed behind other windows', () => {
    expect(make(true).webPreferences.backgroundThrottling).toBe(false);
  });

  it('is not smaller than the smallest layout and shows no white flash', () => {
    expect(make(true)).toMatchObject({ minWidth: 1024, minHeight: 700, show: false, backgroundColor: '#161513' });
    expect(windowOptions({ place, preload: '', icon: undefined, isDark: false, isPackaged: true }).backgroundColor).toBe('#f8f6f2');
  });
});

it('prints without running a script, tagged and with an outline', () => {
  expect(printWindowOptions()).toMatchObject({ show: false, webPreferences: { javascript: false } });
  expect(printWindowOptions().webPreferences).not.toHaveProperty('preload');
  expect(pdfOptions).toMatchObject({ generateTaggedPDF: true, generateDocumentOutline: true, preferCSSPageSize: true });
});
