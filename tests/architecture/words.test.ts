/** Sentences that a person can see are in shared/words, and nowhere else. */
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { read, importsOf, inFolder, upTo } from './project-files.ts';

/** Where text stands outside `shared/words` for a reason: folder or file -> the reason. */
const ownText: Readonly<Record<string, string>> = {
  'shared/words/': 'this is where sentences are',
  'shared/units/quantities.ts': 'labels of the table of quantities',
  'shared/combustion/figures/formula-texts.ts': 'formulas with their sources',
  'shared/tuning/card/example-cards.ts': 'published limits as they are named and cited',
  'shared/bench/limits.ts': 'published limits as they are named and cited',
};
/** Properties that say where something comes from. */
const citations = new Set(['source', 'sources', 'from', 'edition', 'method', 'conditions', 'draftSource']);
/** Five words, or three that end as a sentence does; what stands in for a value is written {}. */
function isSentence(text: string): boolean {
  if (/^\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|WITH|id, body|seq, kind|appliance_id|const \{)|^[<":@]|[{;]\s*[\w-]+:\S/.test(text))
    return false;
  const words = text.split(/\s+/).filter((word) => /^["'(]?[A-Za-z][a-z'’]*["')]?[,.;:?!]?$/.test(word));
  if (words.filter((word) => word.replace(/\W/g, '').length >= 3).length < 2) return false;
  return words.length >= 5 || (words.length >= 3 && /[.?!]["')]?$/.test(text.trim()));
}
/** Sentences of a file, besides citations and what only a programmer reads (errors that are thrown). */
function sentencesOf(path: string, text = read(path)): string[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true, path.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS);
  const found: string[] = [];
  const textOf = (node: ts.Node): string | undefined => {
    if (ts.isJsxText(node)) return node.text;
    if (ts.isTemplateExpression(node)) return node.head.text + node.templateSpans.map(({ literal }) => `{}${literal.text}`).join('');
    return ts.isStringLiteralLike(node) && !ts.isImportDeclaration(node.parent) && !ts.isLiteralTypeNode(node.parent)
      ? node.text
      : undefined;
  };
  const isSilent = (node: ts.Node): boolean =>
    ts.isThrowStatement(node) ||
    (ts.isNewExpression(node) && node.expression.getText().endsWith('Error')) ||
    (ts.isJsxAttribute(node) && ['className', 'd'].includes(node.name.getText())) ||
    (ts.isPropertyAssignment(node) && citations.has(node.name.getText()));
  const visit = (node: ts.Node): void => {
    if (isSilent(node)) return;
    const own = textOf(node);
    if (own !== undefined && isSentence(own)) found.push(own.replace(/\s+/g, ' ').trim());
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

describe('words', () => {
  it('are in shared/words: no sentence that a person can see stands anywhere else', () => {
    const here = ['shared', 'main', 'renderer']
      .flatMap(inFolder)
      .filter((path) => !Object.keys(ownText).some((own) => path.startsWith(own)));
    const found = here.flatMap((path) => sentencesOf(path).map((sentence) => `${path}: ${sentence}`));
    expect(found).toEqual([]);
  });

  it('are told from code: names, citations and thrown errors are no sentences', () => {
    const text = [
      "problem('not-found', 'There is no such field.')",
      '`The folder ${path} is not there.`',
      "'instrument-faults'; 'Stack loss'; import './there is no such file.ts'",
      "const row = { source: 'US EPA Method 3B, as read on the day' }; throw new Error('this is a bug of ours.')",
    ].join(';\n');
    expect(sentencesOf('a.ts', text)).toEqual(['There is no such field.', 'The folder {} is not there.']);
    expect(sentencesOf('a.tsx', 'const a = <p className="one two three four five">Wait for the stack.</p>')).toEqual([
      'Wait for the stack.',
    ]);
  });

  it('of the core know no room but what is measured', () => {
    const wrong = inFolder('shared/words/core').flatMap((path) => importsOf(path).filter((target) => !upTo('measurement').test(target)));
    expect(wrong).toEqual([]);
  });
});
