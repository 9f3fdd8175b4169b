/** The window and the report write numbers alike. */
export * from '../../shared/format/quantity.ts';
