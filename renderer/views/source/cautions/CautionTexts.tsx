import { source } from '../../../../shared/words/source.ts';

export function CautionTexts() {
  return source.cautions.map((parts, index) => (
    <p key={index}>{parts.map(({ text, strong }, at) => (strong === true ? <b key={at}>{text}</b> : text))}</p>
  ));
}
