/** What is opened over the reading; entries go on when it is closed. */

export type Panel =
  | { readonly open: "other" }
  | { readonly open: "verticals" }
  | { readonly open: "vertical"; readonly vertical: string }
  | { readonly open: "remark"; readonly vertical: string }
  | { readonly open: "questions" }
  | { readonly open: "points"; readonly vertical: string }
  | { readonly open: "channels" }
  | { readonly open: "keys" };
