/** The certificate: its sentence, and what the one main button does. Pure. */
import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import { certificateWords } from '../../../../shared/words/paper/certificate.ts';

const words = certificateWords;

/** `name`: who signs. `pdf`: nothing is left to do but to take it along. */
export type CertificateDeed = { does: 'name' | 'sign' | 'pdf'; says: string; text: string };

export type CertificateFacts = {
  test: Pick<BenchTest, 'watermark' | 'signature'>;
  altered: boolean;
  may: boolean;
  name: string;
};

export function certificateDeedOf({ test: { watermark, signature }, altered, may, name }: CertificateFacts): CertificateDeed {
  const pdf = (says: string): CertificateDeed => ({ does: 'pdf', says, text: words.pdf });
  if (watermark !== undefined) return pdf(words.practice);
  if (signature !== undefined) return pdf(altered ? words.altered : words.signedName(signature.name));
  if (!may) return pdf(words.unsignedElsewhere);
  return name.trim() === ''
    ? { does: 'name', says: words.nameFirst, text: words.toName }
    : { does: 'sign', says: words.unsignedSays, text: words.sign };
}
