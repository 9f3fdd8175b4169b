import { v7 } from 'uuid';

/** Ids are UUIDv7, made here only: they sort by time and never clash when visits move between laptops. */
export const newId = (): string => v7();
