/** Height of the bands PDF pages are drawn in; fixed, because edges within transparency may differ between heights. */
export const bandRows = 512;
