import { version } from '../package.json';

/** The app's version, bundled at build time. */
export const appVersion: string = version;
