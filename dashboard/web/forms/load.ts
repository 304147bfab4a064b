// Reads one answer of the server for a screen, again whenever the lab changes.

import { useSignalEffect } from '@preact/signals';
import { useRef, useState } from 'preact/hooks';
import { read, type Trouble } from '../base/api.ts';
import { labVersion } from '../live/lab-state.ts';

export const useLoaded = <T>(path: string) => {
  const [value, setValue] = useState<T | null>(null);
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const asked = useRef(path);
  asked.current = path;
  const load = async (): Promise<void> => {
    const answer = await read<T>(asked.current);
    if (answer.ok) setValue(answer.value);
    setTrouble(answer.ok ? null : answer.trouble);
  };
  useSignalEffect(() => {
    labVersion.value;
    void load();
  });
  return { value, trouble, load, setValue };
};
