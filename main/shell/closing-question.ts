/** Asked when the last window is closed while a run is under way; Enter and Escape both keep measuring. */
export const closingQuestion = {
  type: 'question' as const,
  title: 'Flueside',
  message: 'A run is under way.',
  detail: 'Closing the window ends it. What was measured so far is kept.',
  buttons: ['Keep measuring', 'End the run and close'],
  defaultId: 0,
  cancelId: 0,
  noLink: true,
};

export const endsRun = (answer: number): boolean => answer === 1;
