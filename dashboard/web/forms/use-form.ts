// A form over a draft of its own: its fields, what is typed into them, and the saving of it.

import { useState } from 'preact/hooks';
import type { FormFields } from '../../api/field-facts.ts';
import { useSaving } from './saving.tsx';
import { fieldsOf } from './schema-fields.tsx';

export const useForm = <Draft extends object>(fields: FormFields, start: Draft) => {
  const saving = useSaving();
  const [draft, setDraft] = useState(start);
  const change = (part: Partial<Draft>): void => setDraft((typed) => ({ ...typed, ...part }));
  const form = { fields, saving };
  return { saving, draft, change, form, field: fieldsOf(form, draft, change) };
};
