/**
 * The result of a search, a fit or an inverse problem: what was found, or the reason why there is nothing to find.
 *
 * @source design decision of this library: "no answer" is a value, never a silent best guess
 */
export type Answer<T extends object, R extends string> =
  | ({ readonly kind: "found" } & T)
  | { readonly kind: "none"; readonly reason: R };
