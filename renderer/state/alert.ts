export type Alert = {
  kind: 'notice' | 'alarm';
  key: string;
  strong: string;
  rest: string;
  /** a notice stays till answered; an alarm can't be closed while it holds */
  dismiss: 'standing' | 'answer' | undefined;
  /** a button that opens the lines with what is asked about them */
  opensLines?: string;
};
