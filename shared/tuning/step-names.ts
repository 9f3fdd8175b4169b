export const stepIds = ['start', 'set-up', 'as-found', 'air-curve', 'as-left', 'safety', 'report'] as const;
export type StepId = (typeof stepIds)[number];
