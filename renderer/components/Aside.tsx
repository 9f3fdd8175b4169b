/** What stands at the end of a row, beside its name. Read aloud there is a comma between them, so that they do not run together. */
export function Aside({ text, className = '' }: { text: string; className?: string }) {
  if (text === '') return null;
  return (
    <>
      <span className="hidden-text">, </span>
      <span className={`small second${className === '' ? '' : ` ${className}`}`}>{text}</span>
    </>
  );
}
