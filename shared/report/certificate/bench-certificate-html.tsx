/** The certificate's page, for screen and paper, in the look of the report. No script, nothing loaded from elsewhere. */
import { certificateWords } from '../../words/paper/certificate.ts';
import type { Certificate } from './bench-certificate.ts';
import { Words } from '../drawings/Drawing.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import { PageHead } from '../page/FirstPage.tsx';
import { pageFile } from '../page/page-file.ts';
import { Sheet } from '../page/Sheet.tsx';
import { reportStyle, type Paper, type ReportFonts } from '../pages/report-style.ts';
import { shapeOf, Notes, Gases, Round } from './certificate-tables.tsx';

const words = certificateWords;

const certificateStyle = (certificate: Certificate, { paper, fonts }: { paper: Paper; fonts: ReportFonts }): string =>
  `${reportStyle({ paper, fonts, tape: certificate.tape, foot: { cautions: words.holds, run: certificate.hash.slice(0, 16) }, page: { page: words.pageWord, of: words.of } })}
main h2{margin:10px 0 4px;padding-top:6px;border-top:1px solid var(--edge)}main .verdict h3{margin:0}main h3{margin:7px 0 2px}
main table{font-size:9.5pt}main th{font-size:9pt;padding:2px 6px 3px 0}main td{padding:1px 6px 1px 0;vertical-align:middle;height:21px}
.vd{display:flex;gap:6px;align-items:center;line-height:1.1}.vd>svg{flex:none}.ids{columns:2;column-gap:8mm;font-size:10pt}.ids div{display:grid;grid-template-columns:31mm minmax(0,1fr);gap:2px 8px;break-inside:avoid;padding:1.5px 0}.ids dt{color:var(--ink-2)}
.notes{font-size:10pt;padding-left:16px}.notes li{margin:2px 0}p.mono{font-size:7.6pt;line-height:1.4}
`;

export const certificateHtml = (certificate: Certificate, options: { paper: Paper; fonts: ReportFonts }): string =>
  pageFile({
    title: certificate.documentTitle,
    style: certificateStyle(certificate, options),
    body: <CertificatePages certificate={certificate} />,
  });

function CertificatePages({ certificate }: { certificate: Certificate }) {
  const { verdict, signature, tape } = certificate;
  return (
    <main>
      <Sheet tape={tape} foot={{ cautions: words.holds, run: certificate.hash.slice(0, 16) }}>
        <PageHead title={certificate.title} about={certificate.instrumentLine} side={certificate.side} />
        <section className="verdict">
          <VerdictSign verdict={shapeOf(verdict.verdict)} size={40} />
          <div>
            <p className="n2">{words.conclusion}</p>
            <h3>
              <Words text={verdict.sentence} />
            </h3>
          </div>
        </section>
        <section>
          <h2>{words.header}</h2>
          <dl className="ids">
            {certificate.facts.map(({ label, value }, index) => (
              <div key={index}>
                <dt>
                  <Words text={label} />
                </dt>
                <dd>
                  <Words text={value} />
                </dd>
              </div>
            ))}
          </dl>
        </section>
        <Gases gases={certificate.gases} />
        {certificate.rounds.map((round, index) => (
          <Round key={index} round={round} index={index} certificate={certificate} />
        ))}
        <section>
          <h2>{words.foot}</h2>
          <Notes lines={certificate.foot} />
          <p className="mono">
            {words.hash}: {inGroups(certificate.hash)}
          </p>
        </section>
        <section className="sign">
          <div>
            <div className="ln">{signature.name}</div>
            {words.facts.person}
          </div>
          <div>
            <div className="ln">{signature.when}</div>
            {words.facts.time}
          </div>
          <div>
            <b>{signature.state}</b>
          </div>
        </section>
      </Sheet>
    </main>
  );
}

const inGroups = (hash: string): string => hash.match(/.{1,4}/g)?.join(' ') ?? '';
