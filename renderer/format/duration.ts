export * from '../../shared/format/duration.ts';
