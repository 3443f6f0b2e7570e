/** Places inside a sheet: `recordings[3].hole`; a key that is no plain name is quoted: `job["odd key"]`. */

export type Step = string | number

const plainName = /^[A-Za-z_$][\w$-]*$/

export function pathText(steps: readonly Step[]): string {
  const text = steps.map((step) => {
    if (typeof step === 'number') return `[${step}]`
    return plainName.test(step) ? `.${step}` : `[${JSON.stringify(step)}]`
  })
  return text.join('').replace(/^\./, '')
}

const piece = /\[(\d+)\]|\[("(?:[^"\\]|\\.)*")\]|\.?([A-Za-z_$][\w$-]*)/g

/** The steps of a text that `pathText` wrote. */
export const pathSteps = (text: string): readonly Step[] =>
  [...text.matchAll(piece)].map(([, index, quoted, name]) => {
    if (index !== undefined) return Number(index)
    return quoted === undefined ? (name ?? '') : (JSON.parse(quoted) as string)
  })
