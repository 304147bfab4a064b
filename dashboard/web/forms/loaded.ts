// What a screen of set-up shows, loaded when it opens and again when the lab changed or the screen asks.

import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { LabView } from '../../api/lab-bodies.ts';
import { read } from '../base/api.ts';
import { labVersion } from '../live/lab-state.ts';
import { type Saving, useSaving } from './saving.tsx';

export interface Loaded<T> {
  readonly value: T | null;
  /** Why it could not be loaded; the password may have to be typed again. */
  readonly loading: Saving;
  readonly load: () => void;
}

export const useLoaded = <T>(path: string): Loaded<T> => {
  const [value, setValue] = useState<T | null>(null);
  const loading = useSaving();
  const load = (): void => void loading.run(() => read<T>(path), setValue);
  const version = labVersion.value;
  useEffect(load, [path, version]);
  return { value, loading, load };
};

/** Loaded again after each change made here, without waiting for the live line. */
const changes = signal(0);
export const labChanged = (): void => {
  changes.value += 1;
};

export const useLab = (): Loaded<LabView> => {
  const loaded = useLoaded<LabView>('/api/lab');
  const count = changes.value;
  useEffect(() => {
    if (count > 0) loaded.load();
  }, [count]);
  return loaded;
};
