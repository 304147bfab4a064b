// Working hours between the form and the wire: `HH:MM-HH:MM`, in order. The form's midnight is the wire's 24:00.

export type Spans = readonly (readonly [opens: string, closes: string])[];

export const spansOf = (texts: readonly string[] = []): Spans =>
  texts.map((text) => {
    const [opens = '', closes = ''] = text.split('-');
    return [opens, closes === '24:00' ? '00:00' : closes];
  });

export const spanTexts = (spans: Spans): string[] =>
  [...spans]
    .sort(([first], [second]) => first.localeCompare(second))
    .map(([opens, closes]) => `${opens}-${closes === '00:00' ? '24:00' : closes}`);
