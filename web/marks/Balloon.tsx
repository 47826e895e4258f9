import './balloon.css';

/** A finding by its number, a detail by its letter; filled when chosen (details always). */
export function Balloon({ mark, chosen }: { readonly mark: string; readonly chosen: boolean }) {
  return (
    <span className="balloon" data-chosen={chosen} aria-hidden="true">
      {mark}
    </span>
  );
}
