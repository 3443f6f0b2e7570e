/**
 * Seeds of the generated trials. Fixed before the detector that they judge was written, and never changed to suit it:
 * whoever wants other recordings adds a name.
 */
export const SEEDS = {
  /** the 20 set-ups: metals, diameters, speeds, rates, probes */
  setups: 30_101,
  /** 1 000 notch-like flaws for the sizing intervals */
  sizing: 30_202,
  /** small flaws for the smallest one found in nine of ten */
  smallest: 30_303,
  /** holes without a flaw for the false-call rate */
  blanks: 30_404,
  /** every cause of an indication, for the classing table */
  classing: 30_505
} as const
