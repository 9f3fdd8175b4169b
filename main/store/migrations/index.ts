import type { Migration } from './migration.ts';
import { visits } from './0001-visits.ts';
import { library } from './0002-library.ts';
import { office } from './0003-office.ts';
import { instrumentIds } from './0004-instrument-ids.ts';

export const migrations: readonly Migration[] = [visits, library, office, instrumentIds];
export const latestVersion = migrations.length;
