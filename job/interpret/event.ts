/** What is said of candidates while samples come in; `ruler` in revolutions (or units of track). */
export type ExamineEvent =
  | { readonly kind: 'opened'; readonly id: string; readonly ruler: number; readonly matched: number }
  | { readonly kind: 'revised'; readonly id: string; readonly ruler: number; readonly matched: number }
  | { readonly kind: 'settled'; readonly id: string; readonly ruler: number; readonly matched: number }
  | { readonly kind: 'withdrawn'; readonly id: string; readonly reason: string }
