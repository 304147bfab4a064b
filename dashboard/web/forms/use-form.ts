// A form over a draft of its own: its fields, what is typed into them, and the saving of it.

import { useState } from 'preact/hooks';
import type { FormFields } from '../../api/field-facts.ts';
import { useSaving } from './saving.tsx';
import { fieldsOf, type SchemaForm } from './schema-fields.tsx';

/** What a part of a form is given: the form that it belongs to, and the draft that it shows and changes. */
export interface FormPart<Draft> {
  readonly form: SchemaForm;
  readonly draft: Draft;
  readonly onChange: (change: Partial<Draft>) => void;
}

/** `start`: the draft, or what makes it when the form is opened. */
export const useForm = <Draft extends object>(fields: FormFields, start: Draft | (() => Draft)) => {
  const saving = useSaving();
  const [draft, setDraft] = useState(start);
  const change = (changes: Partial<Draft>): void => setDraft((typed) => ({ ...typed, ...changes }));
  const form = { fields, saving };
  const part: FormPart<Draft> = { form, draft, onChange: change };
  return { saving, draft, change, form, part, field: fieldsOf(form, draft, change) };
};
