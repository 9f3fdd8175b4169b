import type { WindowPlace } from './window-memory.ts';
import { defined } from '../../shared/defined.ts';

export type WindowParts = {
  readonly place: WindowPlace;
  readonly preload: string;
  readonly icon: string | undefined;
  readonly isDark: boolean;
  readonly isPackaged: boolean;
};

/** Ground of each theme (the window's own colours), so that nothing flashes before the first picture. */
const ground = { dark: '#161513', light: '#f8f6f2' };

/** Written out in full, defaults too: what protects the machine must not hang on what some version takes for granted. */
const protections = {
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  enableBlinkFeatures: '',
  webviewTag: false,
  plugins: false,
  navigateOnDragDrop: false,
  spellcheck: false,
};

/** How the window of the desktop shell is made. */
export const windowOptions = ({ place, preload, icon, isDark, isPackaged }: WindowParts) => ({
  ...place,
  show: false,
  title: 'Flueside',
  backgroundColor: isDark ? ground.dark : ground.light,
  ...defined({ icon }),
  webPreferences: {
    ...protections,
    preload,
    // a run is watched from the far side of the room, behind other windows
    backgroundThrottling: false,
    devTools: !isPackaged,
  },
});

/** The report's own page while it is printed: it needs no script, no preload and no picture from anywhere. */
export const printWindowOptions = () => ({ show: false, webPreferences: { ...protections, javascript: false, devTools: false } });

/** Tagged and with an outline, as the report promises; paper size and margins come from its style sheet. */
export const pdfOptions = {
  preferCSSPageSize: true,
  printBackground: true,
  generateTaggedPDF: true,
  generateDocumentOutline: true,
} as const;
