/** What a refusal of the server, of TLS or of the network means for the person. */
import { problem, type Problem } from '../../../shared/problem.ts';
import { officeTexts } from '../../../shared/words/host.ts';

export type Asked = { readonly host: string; readonly port: number; readonly database: string; readonly does: 'read' | 'write' };

/** Names of Node's TLS and of OpenSSL for a certificate that does not hold. */
const CERTIFICATE =
  /^(CERT_|ERR_TLS_CERT|DEPTH_ZERO_SELF_SIGNED_CERT|SELF_SIGNED_CERT_IN_CHAIN|UNABLE_TO_(VERIFY|GET)_|HOSTNAME_MISMATCH|INVALID_CA|ERR_SSL|EPROTO|ERR_OSSL)/;

function certificateSaid(code: string, message: string, host: string): string {
  if (code === 'DEPTH_ZERO_SELF_SIGNED_CERT' || code === 'SELF_SIGNED_CERT_IN_CHAIN') return officeTexts.selfSigned;
  if (code === 'ERR_TLS_CERT_ALTNAME_INVALID' || code === 'HOSTNAME_MISMATCH') return officeTexts.otherName(host);
  return code === 'CERT_HAS_EXPIRED' || code === 'CERT_NOT_YET_VALID' ? officeTexts.expired : message;
}

/** @source PostgreSQL documentation, appendix A (error codes) */
export function problemOfServer(failure: unknown, { host, port, database, does }: Asked): Problem | undefined {
  const { code: given, message: said } = failure as { code?: unknown; message?: unknown };
  const code = typeof given === 'string' ? given : '';
  const message = String(said ?? failure);
  if (/does not support SSL/.test(message)) return problem('office-no-tls');
  if (CERTIFICATE.test(code)) return problem('office-certificate', certificateSaid(code, message, host));
  if (code.startsWith('28')) return /no encryption|SSL off/.test(message) ? problem('office-no-tls') : problem('office-password');
  if (/password must be a (non-empty )?string/.test(message)) return problem('office-password');
  if (code === '3D000') return problem('office-none', officeTexts.noDatabase(database));
  if (code === '3F000' || code === '42P01') return problem('office-none', officeTexts.databaseHasNone(database));
  if (code === '42501') return problem(does === 'read' ? 'office-no-access' : 'office-read-only');
  if (code === '25006') return problem('office-read-only');
  if (code === '42710') return problem('office-user-taken');
  if (code === '53100') return problem('office-full');
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN') return problem('office-unreachable', officeTexts.noHost(host));
  if (/^E[A-Z]+$/.test(code) || /timeout expired|connection timeout/i.test(message))
    return problem('office-unreachable', officeTexts.noServerAt(host, port));
  // connection failures, no resources left, shutting down, busy with others, given up for another
  if (/^(08|40|53|55|57)/.test(code)) return problem('office-unreachable', message);
  if (/Connection terminated|timeout|Client has encountered a connection error|not queryable|Cannot use a pool/i.test(message))
    return problem('office-unreachable', message);
  // refused by what the tables themselves demand: not written by this program
  if (code.startsWith('23') || code.startsWith('22')) return problem('office-item-wrong', message);
  return undefined;
}
