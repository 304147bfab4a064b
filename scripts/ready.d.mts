/** The folders of the product. */
export const PRODUCT: readonly string[];
