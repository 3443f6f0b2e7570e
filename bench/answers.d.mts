export interface Notch {
  readonly place: string
  readonly depth_mm: number
  readonly angle_deg: number
}
export interface Answer {
  readonly samples: number
  readonly notches: readonly string[]
}
export declare function notchesFound(
  calls_deg: readonly number[],
  notches: readonly Notch[],
  limits: { readonly least_mm: number; readonly tolerance_deg: number }
): string[]
export declare function sameSamplesAndNotches(a: Answer, b: Answer): { equal: boolean; compared: unknown }
