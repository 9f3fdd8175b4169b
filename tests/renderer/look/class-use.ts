/** Which classes the window's code gives to elements, and where. Read from the syntax, so a name made of parts counts by the part that is written. */
import { readdirSync, readFileSync } from 'node:fs';
import ts from 'typescript';

const below = (folder: string, ending: RegExp): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((path) => `${folder}/${path.replaceAll('\\', '/')}`)
    .filter((path) => ending.test(path));

/** Code that draws in the window. What only paper shows has its own style (`shared/report/pages/report-style.ts`). */
export const drawing = [
  ...below('renderer', /\.tsx?$/).filter((path) => !path.startsWith('renderer/keys/')),
  ...below('shared', /\.tsx?$/).filter(
    (path) => !/^shared\/(words|ipc|report\/(certificate|page|pages|true-size)\/)|html|other-scripts/.test(path),
  ),
];
export const sheets = below('renderer', /\.css$/);

/** What follows a word in a template ends it: '' or something that begins with a blank, in every branch. */
function endsWord(node: ts.Expression): boolean {
  if (ts.isParenthesizedExpression(node)) return endsWord(node.expression);
  if (ts.isConditionalExpression(node)) return endsWord(node.whenTrue) && endsWord(node.whenFalse);
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return /^(\s|$)/.test(node.text);
  return ts.isTemplateExpression(node) && /^\s/.test(node.head.text);
}

type Words = { readonly whole: Set<string>; readonly begun: Set<string> };

/** Adds the words that an expression can give: whole ones, and beginnings of those that a variable ends. */
function wordsIn(node: ts.Node, into: Words): void {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) {
    for (const word of node.text.split(/\s+/)) if (word !== '') into.whole.add(word);
    return;
  }
  if (ts.isBinaryExpression(node) && /^[=!]==$/.test(node.operatorToken.getText())) return;
  if (ts.isTemplateExpression(node)) {
    [node.head, ...node.templateSpans.map(({ literal }) => literal)].forEach(({ text }, at, parts) => {
      const words = text.split(/\s+/);
      words.forEach((word, place) => {
        if (word === '' || (place === 0 && at > 0)) return;
        const goesOn = place === words.length - 1 && at < parts.length - 1;
        if (!goesOn) into.whole.add(word);
        else if (endsWord((node.templateSpans[at] as ts.TemplateSpan).expression)) into.whole.add(word);
        else into.begun.add(word);
      });
    });
    node.templateSpans.forEach(({ expression }, at) => {
      const start = /\S*$/.exec(at === 0 ? node.head.text : (node.templateSpans[at - 1] as ts.TemplateSpan).literal.text)?.[0] ?? '';
      if (start === '' || endsWord(expression)) wordsIn(expression, into);
      else {
        const ends: Words = { whole: new Set(), begun: new Set() };
        wordsIn(expression, ends);
        for (const end of ends.whole) into.whole.add(`${start}${end}`);
      }
    });
    return;
  }
  ts.forEachChild(node, (child) => wordsIn(child, into));
}

const givesClass = (node: ts.Node): boolean =>
  (ts.isJsxAttribute(node) || ts.isPropertyAssignment(node) || ts.isVariableDeclaration(node) || ts.isFunctionDeclaration(node)) &&
  /class(name|es)?$/i.test(node.name?.getText() ?? '');

export type ClassUse = { readonly path: string; readonly classes: Words; readonly words: Words };

/** `classes`: from what is named a class; `words`: from every text of the file, where a class may come through a variable. */
export const uses: readonly ClassUse[] = drawing.map((path) => {
  const kind = path.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const source = ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true, kind);
  const use: ClassUse = { path, classes: { whole: new Set(), begun: new Set() }, words: { whole: new Set(), begun: new Set() } };
  const walk = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isLiteralTypeNode(node)) return;
    if (givesClass(node)) ts.forEachChild(node, (child) => wordsIn(child, use.classes));
    else if (ts.isStringLiteral(node) || ts.isTemplateExpression(node) || ts.isNoSubstitutionTemplateLiteral(node))
      wordsIn(node, use.words);
    ts.forEachChild(node, walk);
  };
  walk(source);
  return use;
});

const gives = ({ whole, begun }: Words, name: string): boolean =>
  whole.has(name) || [...begun].some((start) => start.length > 2 && name.startsWith(start));

/** @returns files that give an element this class; where none does so by name, files that have the word in any text */
export function usersOf(name: string): readonly string[] {
  const byClass = uses.filter(({ classes }) => gives(classes, name));
  return (byClass.length > 0 ? byClass : uses.filter(({ words }) => gives(words, name))).map(({ path }) => path);
}
