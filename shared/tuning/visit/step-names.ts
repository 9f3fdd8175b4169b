/** Every step there is. Which ones a visit has, and in which order, follows from its kind of job. */
export const stepIds = ['start', 'as-found', 'set-up', 'warm-up', 'air-curve', 'as-left', 'safety', 'report'] as const;
export type StepId = (typeof stepIds)[number];

export const jobs = ['service', 'commissioning', 'check', 'call-back'] as const;
export type Job = (typeof jobs)[number];

const orders: Readonly<Record<Job, readonly StepId[]>> = {
  service: ['start', 'as-found', 'set-up', 'warm-up', 'air-curve', 'as-left', 'safety', 'report'],
  // nothing was burning that could be found: geometry first
  commissioning: ['start', 'set-up', 'warm-up', 'air-curve', 'as-left', 'safety', 'report'],
  // nothing is changed: one reading is as found and as left
  check: ['start', 'as-found', 'as-left', 'safety', 'report'],
  'call-back': ['start', 'as-found', 'set-up', 'warm-up', 'air-curve', 'as-left', 'safety', 'report'],
};
/** Visits of earlier versions do not say what they were; they keep the steps that they had. */
const unsaid: readonly StepId[] = ['start', 'set-up', 'as-found', 'air-curve', 'as-left', 'safety', 'report'];

/** The thread of a visit, in the order of work. @source EPA-600/2-75-069-a and NORA Oilheat Technicians Manual p 138: draft before air; the rest common practice */
export const stepOrder = (job: Job | undefined): readonly StepId[] => (job === undefined ? unsaid : orders[job]);

/** The step after this one; from a step that this job does not have, the next one that it has. */
export function stepAfter(job: Job | undefined, step: StepId): StepId | undefined {
  const order = stepOrder(job);
  const at = order.indexOf(step);
  if (at >= 0) return order[at + 1];
  return stepIds.slice(stepIds.indexOf(step)).find((one) => order.includes(one));
}
