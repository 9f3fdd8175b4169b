import type { ReactNode } from 'react';

/** 'O2' -> O with a real subscript; the bundled font has no subscript digits. Screen readers hear 'O2'. */
export function ChannelName({ text }: { text: string }): ReactNode {
  const parts = text.split(/\b((?:CO|O|NO|SO|H)2)(?=\b|max\b)/);
  if (parts.length === 1) return text;
  return parts.map((part, index) =>
    index % 2 === 0 ? (
      part
    ) : (
      <span key={index}>
        {part.slice(0, -1)}
        <sub>2</sub>
      </span>
    ),
  );
}
