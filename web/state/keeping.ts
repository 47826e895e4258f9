/** How the session is kept: in the browser, and beside the stems. */
export interface Keeping {
  readonly browser: 'kept' | 'full' | 'closed';
  /** `none`: there is no folder to write into. */
  readonly folder: 'written' | 'refused' | 'none';
}

/** Why a store of the browser refused. */
export function refusalOf(error: unknown): 'full' | 'closed' {
  return error instanceof Error && error.name === 'QuotaExceededError' ? 'full' : 'closed';
}

/** What the engineer should know of it; null where all is well. */
export function sayKeeping({ browser, folder }: Keeping): string | null {
  const why = browser === 'full' ? 'the browser’s storage is full' : 'the browser keeps nothing for this page';
  if (browser === 'kept') {
    return folder === 'refused'
      ? 'The folder may not be written: the session is kept in this browser only. Open the folder again to write there.'
      : null;
  }
  if (folder === 'written') return null;
  return `This session is not kept here: ${why}. Save it as a file, and open it with the stems later.`;
}
