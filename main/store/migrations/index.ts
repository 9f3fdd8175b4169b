import type { Migration } from './migration.ts';
import { visits } from './0001-visits.ts';
import { library } from './0002-library.ts';

export const migrations: readonly Migration[] = [visits, library];
export const latestVersion = migrations.length;
