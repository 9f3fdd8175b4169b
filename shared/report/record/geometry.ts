/** Electrodes, nozzle and head in the technical record: two drawings and a table; on page 1 one line. */
import { frontView, sideView, type View } from '../../geometry/drawing/drawing.ts';
import { isLength, itemNames } from '../../geometry/items.ts';
import { pictureOf } from '../../geometry/drawing/picture.ts';
import type { Picture } from '../../geometry/drawing/picture-mark.ts';
import { changesOf, drawnFigures, geometryNow, hasGeometry, type GeometryNow, type ItemNow } from '../../tuning/set-up/geometry-now.ts';
import { staleBeyond } from '../../tuning/set-up/geometry-changes.ts';
import { presentValue, type SetUpSheet } from '../../tuning/set-up/set-up-sheet.ts';
import { cardFigureWords, geometryNames, geometryVerdictWords, lengthWords, staleWords } from '../../words/geometry/geometry.ts';
import { leadWords } from '../../words/geometry/lead.ts';
import { geometryReport as words, trueSizeWords } from '../../words/paper/geometry-sheet.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { formatClock } from '../../format/duration.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import type { ReportPhoto } from '../report-input.ts';
import { shortHash } from '../written.ts';
import type { Block, Cell, Section } from '../report-model.ts';
import type { Parts } from '../pages/page-parts.ts';
import { whenDefined } from '../../defined.ts';

const ended = ({ unit }: GeometryNow, { item }: ItemNow, typed: string | undefined): string => {
  if (typed === undefined) return recordWords.absent;
  if (!isLength(item) || /[a-z"]$/i.test(typed)) return typed;
  return `${typed}\u2009${unit === 'mm' && !typed.includes('/') ? 'mm' : 'in'}`;
};

/** Items that something is known of. */
const shownItems = (now: GeometryNow): ItemNow[] =>
  itemNames.map((item) => now.items[item]).filter((one) => one.nowTyped !== undefined || one.found.state === 'given');

const figureOf = (now: GeometryNow, one: ItemNow): string =>
  one.found.state === 'given'
    ? cardFigureWords(one.item, one.found.figure, one.isOfCard ? (now.card?.lengthUnit ?? now.unit) : now.unit)
    : recordWords.absent;

/** Figure and tolerance as the record sets them: they never part at the end of a line. */
function figureCell(text: string): Cell {
  const at = text.indexOf('±');
  return at < 0 ? text : { text: text.slice(0, at).trim(), half: text.slice(at) };
}

export function geometrySection({ visit, input }: Parts): Section | undefined {
  const photos = visit.setUp.geometry?.photoFiles ?? [];
  if (!hasGeometry(visit.setUp)) return photos.length === 0 ? undefined : { title: words.title, blocks: photoBlocks(visit, input.photos) };
  const now = geometryNow(visit.setUp);
  const rows = shownItems(now).map((one): Cell[] => [
    geometryNames[one.item],
    ended(now, one, one.asFound),
    ended(now, one, one.asLeft),
    figureCell(figureOf(now, one)),
    one.staleBecause === undefined
      ? geometryVerdictWords(one.item, one.now, now.unit)
      : staleWords({ what: one.item, because: one.staleBecause }),
  ]);
  const { columns } = recordWords;
  const { card } = now;
  const { trueSize: proven, photos: where } = visit.setUp.geometry ?? {};
  const stale = Object.values(now.items).filter(({ staleBecause }) => staleBecause !== undefined).length;
  const source =
    card === undefined
      ? words.noCard
      : words.card(
          card.name,
          card.revision,
          [card.source.document, card.source.edition, card.source.page].filter(Boolean).join(', '),
          card.training,
        );
  const hasLength = itemNames.some((item) => isLength(item) && now.items[item].drawn !== undefined);
  return {
    title: words.title,
    blocks: [
      { kind: 'text', text: source, tone: 'note' },
      ...(hasLength ? [drawings(visit.setUp, now)] : []),
      {
        kind: 'table',
        dense: true,
        columns: [
          { label: columns.item, width: 170 },
          { label: columns.found, figures: true, width: 84 },
          { label: columns.left, figures: true, width: 84 },
          { label: columns.maker, figures: true, width: 150 },
          { label: columns.verdict, width: 184 },
        ],
        rows,
      },
      ...(now.loose.length === 0 ? [] : [{ kind: 'text' as const, text: words.loose(now.loose.length), tone: 'alarm' as const }]),
      ...(changesOf(visit.setUp).length === 0 ? [] : [{ kind: 'text' as const, text: words.changed(stale), tone: 'note' as const }]),
      ...staleBeyond(visit).map((reason) => ({ kind: 'text' as const, text: staleWords(reason), tone: 'strong' as const })),
      ...whenDefined(where, (where) => ({ kind: 'text' as const, text: words.photos(where), tone: 'note' as const })),
      ...whenDefined(proven, (proven) => ({
        kind: 'text' as const,
        text: trueSizeWords.proven(proven.barMm, trueSizeWords.papers[proven.paper]),
        tone: 'note' as const,
      })),
      ...photoBlocks(visit, input.photos),
    ],
  };
}

/** Photos that are here, and in words those that are not. */
function photoBlocks({ setUp, zoneMinutes }: Visit, given: readonly ReportPhoto[] = []): Block[] {
  const photos = setUp.geometry?.photoFiles ?? [];
  if (photos.length === 0) return [];
  const found = photos.map((photo) => ({ photo, here: given.find(({ sha256 }) => sha256 === photo.sha256) }));
  const shown = found.flatMap(({ photo: { name, wallMs, sha256 }, here }) =>
    here?.url === undefined
      ? []
      : [{ url: here.url, caption: words.photo(name, formatClock(wallMs, zoneMinutes, 'minutes'), shortHash(sha256)) }],
  );
  return [
    { kind: 'heading', text: words.photosTitle },
    ...(shown.length === 0 ? [] : [{ kind: 'photos' as const, photos: shown }]),
    ...found.flatMap(({ photo: { name }, here }): Block[] =>
      here?.url === undefined ? [{ kind: 'text', text: words.photoNotHere[here?.why ?? 'missing'](name), tone: 'note' }] : [],
    ),
  ];
}

const SIZE = 2.2;
export function geometryPictures(sheet: SetUpSheet, now: GeometryNow, size = SIZE): { side: Picture; front: Picture } {
  const figures = drawnFigures(now, presentValue(sheet, 'nozzleAngleDeg'));
  const figure: Parameters<typeof pictureOf>[1]['figure'] = ({ axis, from, to }) =>
    lengthWords(Math.abs(axis === 'x' ? to[0] - from[0] : to[1] - from[1]), now.unit).replace(/\u2009?(mm|in)$/, '');
  const draw = (view: View): Picture => pictureOf(view, { size, figure, cardWord: leadWords.card, text: { plain: 13, strong: 13 } });
  return { side: draw(sideView(figures, { cut: true })), front: draw(frontView(figures, { cut: true })) };
}
function drawings(sheet: SetUpSheet, now: GeometryNow): Block {
  const { side, front } = geometryPictures(sheet, now);
  return { kind: 'geometry', side, front, sideLabel: leadWords.side, frontLabel: leadWords.front };
}

/** 'Geometry: 8 of 8 as the card wants them.' Undefined when nothing was measured. */
export function geometryLine(sheet: SetUpSheet): string | undefined {
  const now = geometryNow(sheet);
  const judged = Object.values(now.items).filter(({ now: verdict }) => verdict.verdict === 'pass' || verdict.verdict === 'fail');
  const measured = Object.values(now.items).filter(({ nowTyped }) => nowTyped !== undefined).length;
  if (measured === 0) return undefined;
  const wrong = judged.filter(({ now: verdict }) => verdict.verdict === 'fail').map(({ item }) => geometryNames[item].toLowerCase());
  const stale = Object.values(now.items).filter(({ staleBecause }) => staleBecause !== undefined).length;
  return words.line({ measured, judged: judged.length, wrong, stale, loose: now.loose.length });
}
