/** One step of the schema. Append only: a step that has shipped is never edited. */
export type Migration = { readonly version: number; readonly sql: string };
