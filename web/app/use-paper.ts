import { useEffect, useState } from 'react';

export type Paper = 'light' | 'dark';

const KEPT = 'keelson paper';

/** Light or dark paper: the system's until one is chosen. @returns the paper, and what turns it over. */
export function usePaper(): readonly [Paper, () => void] {
  const [chosen, setChosen] = useState<Paper | null>(keptPaper);
  const [ofSystem, setOfSystem] = useState<Paper>(() => (darkSystem().matches ? 'dark' : 'light'));
  useEffect(() => {
    const system = darkSystem();
    const follow = () => setOfSystem(system.matches ? 'dark' : 'light');
    system.addEventListener('change', follow);
    return () => system.removeEventListener('change', follow);
  }, []);
  const paper = chosen ?? ofSystem;
  useEffect(() => {
    document.documentElement.dataset['paper'] = paper;
  }, [paper]);
  const turn = () => {
    const next = paper === 'dark' ? 'light' : 'dark';
    setChosen(next);
    try {
      localStorage.setItem(KEPT, next);
    } catch {
      // storage is closed to the page: the choice holds until it is left
    }
  };
  return [paper, turn];
}

function darkSystem(): MediaQueryList {
  return matchMedia('(prefers-color-scheme: dark)');
}

function keptPaper(): Paper | null {
  try {
    const kept = localStorage.getItem(KEPT);
    return kept === 'light' || kept === 'dark' ? kept : null;
  } catch {
    return null;
  }
}
