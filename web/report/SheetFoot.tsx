/** The title block at the foot of a printed sheet. */
export function SheetFoot({ cells }: { readonly cells: readonly string[] }) {
  return (
    <footer>
      {['Keelson', ...cells].map((cell) => (
        <span key={cell}>{cell}</span>
      ))}
    </footer>
  );
}
