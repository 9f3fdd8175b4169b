import type { CardFigure } from '../../../shared/geometry/figures-card.ts';
import { isLength, itemNames, type GeometryItem } from '../../../shared/geometry/items.ts';
import type { GeometryNow } from '../../../shared/tuning/set-up/geometry-now.ts';
import { geometryNames, geometryVerdictWords, staleBriefly } from '../../../shared/words/geometry/geometry.ts';
import { leadWords } from '../../../shared/words/geometry/lead.ts';
import { setUpScreen as words } from '../../../shared/words/visit/screens/set-up.ts';
import { useParts } from '../../app-parts.ts';
import { KeptField } from '../../fields/KeptField.tsx';
import { plainText, type Typed } from '../../fields/typed.ts';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import type { VisitHere } from '../visit/use-visit.ts';
import { CardFigureText, signOf } from './parts.tsx';
import { TwoSidedScale } from './TwoSidedScale.tsx';
import { figureChanges, figureError } from './use-lead.ts';
import './geometry.css';

/** Everything at once: as found, as left, the card, one scale for both, the verdict. Typed text stays as it was typed. */
export function GeometryRows({ here, now }: { here: VisitHere; now: GeometryNow }) {
  return itemNames
    .filter((item) => now.steps.some((step) => step.item === item))
    .map((item) => <Row key={item} item={item} here={here} now={now} />);
}

function Row({ item, here, now }: { item: GeometryItem; here: VisitHere; now: GeometryNow }) {
  const { visits } = useParts();
  const { may, edit, visit } = here;
  const one = now.items[item];
  const unit = isLength(item) ? (now.unit === 'mm' ? 'mm' : 'in') : '';
  const read = (text: string): Typed<string> => {
    const error = figureError(item, text, now.unit);
    return error === undefined ? plainText(text) : { kind: 'wrong', error };
  };
  const row = visit.setUp.geometry?.rows?.[item];
  const figure = one.found.state === 'given' && !one.isOfCard ? one.found.figure : undefined;
  const keepMaker =
    (part: keyof CardFigure) =>
    (after: string | undefined): string | undefined => {
      const maker = { ...(row?.maker ?? figure), [part]: after };
      const isEmpty = Object.values(maker).every((value) => value === undefined);
      return edit({ path: ['setUp', 'geometry', 'rows', item, 'maker'], after: isEmpty ? undefined : maker });
    };
  const isTypedHere = now.card === undefined || !one.isOfCard || (one.found.state === 'none' && one.found.why === 'not-on-card');
  const isStale = one.staleBecause !== undefined;
  const verdictText = one.staleBecause === undefined ? geometryVerdictWords(item, one.now, now.unit) : staleBriefly(one.staleBecause);
  // where there is no scale its place says why: the column of the verdicts is too narrow for it
  const hasNoScale = !isStale && !('limits' in one.now) && one.now.verdict !== 'not-measured';
  return (
    <tr>
      <th scope="row">{geometryNames[item]}</th>
      {(['asFound', 'asLeft'] as const).map((side) => (
        <td key={side}>
          <span className="row found-cell">
            <KeptField
              bare
              name={`geometry-table-${item}-${side}`}
              label={`${geometryNames[item]}, ${side === 'asFound' ? words.found : words.left}`}
              unit={unit}
              disabled={!may}
              shown={one[side] ?? ''}
              parse={read}
              keep={(text) => edit(...figureChanges(here, item, side, text ?? '', visits.nowWallMs()))}
            />
            {side === 'asFound' && one.verdicts.asFound.verdict === 'fail' && (
              <>
                <VerdictSign verdict="fail" />
                <span className="hidden-text">{leadWords.outside}</span>
              </>
            )}
          </span>
        </td>
      ))}
      {isTypedHere ? (
        (['nominal', 'tolerance'] as const).map((part) => (
          <td key={part}>
            <KeptField
              bare
              name={`geometry-table-${item}-${part}`}
              label={`${geometryNames[item]}, ${part === 'nominal' ? words.maker : words.tolerance}`}
              disabled={!may}
              shown={(row?.maker ?? figure)?.[part] ?? ''}
              parse={read}
              keep={keepMaker(part)}
            />
          </td>
        ))
      ) : (
        <td colSpan={2} className="card-cell">
          <CardFigureText item={one} unit={now.card?.lengthUnit ?? now.unit} />
        </td>
      )}
      <td className="scale-column">
        {hasNoScale ? (
          <span className="second small no-scale" aria-hidden="true">
            {verdictText}
          </span>
        ) : (
          <TwoSidedScale item={one} width={116} />
        )}
      </td>
      <td>
        <span className="verdict">
          <VerdictSign verdict={isStale ? 'open' : signOf(one.now)} />
          <span
            className={
              !isStale && (one.now.verdict === 'pass' || one.now.verdict === 'fail')
                ? 'bold verdict-words'
                : `second small verdict-words${hasNoScale ? ' said-before' : ''}`
            }
          >
            {one.now.verdict === 'not-measured' ? <span className="hidden-text">{verdictText}</span> : verdictText}
          </span>
        </span>
      </td>
    </tr>
  );
}

export const tableTitle = ({ card, burner }: GeometryNow): string =>
  [
    card?.name,
    card?.source.page === undefined ? undefined : `page ${card.source.page}`,
    burner.tubeEnd === undefined ? undefined : `${burner.tubeEnd} tube end`,
  ]
    .filter(Boolean)
    .join(' · ') || leadWords.noCard;
