import { common } from '../../../shared/words/common.ts';

export const fuelOptions = Object.entries(common.fuels).map(([value, text]) => ({ value, text }));
