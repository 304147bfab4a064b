// The structure of a tagged PDF (ISO 32000-1, 14.7 and 14.8): what each part is, in the order in which it is read.

/** Of the standard structure types, those that the sheets have. */
type Part = 'H1' | 'H2' | 'H3' | 'P' | 'TH' | 'TD' | 'Figure';
type Group = 'Table' | 'TR';

export interface PdfTags {
  /** What `work` draws is one part; a figure has in `alt` what can be seen on it. */
  readonly mark: (part: Part, work: () => void, alt?: string) => void;
  /** Parts that `work` marks belong together. */
  readonly inside: (group: Group, work: () => void) => void;
  /** What `work` draws is decoration, or repeated, and is not read. */
  readonly artifact: (work: () => void) => void;
  readonly end: () => void;
}

export const pdfTags = (doc: PDFKit.PDFDocument): PdfTags => {
  const root = doc.struct('Document');
  doc.addStructure(root);
  let parent = root;
  return {
    mark: (part, work, alt) => {
      const content = doc.markStructureContent(part);
      work();
      doc.endMarkedContent();
      parent.add(doc.struct(part, alt === undefined ? {} : { alt }, [content]));
    },
    inside: (group, work) => {
      const outer = parent;
      parent = doc.struct(group);
      outer.add(parent);
      work();
      parent.end();
      parent = outer;
    },
    artifact: (work) => {
      doc.markContent('Artifact', { type: 'Layout' });
      work();
      doc.endMarkedContent();
    },
    end: () => root.end(),
  };
};
