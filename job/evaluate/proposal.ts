import type { Class } from '../interpret/index.ts'

/** What the program proposes for an indication. It proposes; a named person decides. */
export function proposalOf(of: Class, withheld: readonly string[], place: 'hole' | 'weld' = 'hole'): string {
  if (withheld.length > 0) return `no proposal: ${withheld[0]}`
  if (of === 'relevant') {
    const ways =
      place === 'hole'
        ? 'rejection, clean-up ream or reference to engineering'
        : 'rejection, another method of testing or reference to engineering'
    return `relevant: a person decides on ${ways}`
  }
  if (of === 'undecided') return 'undecided: clean, enter again and look a second time before deciding'
  if (of === 'false') return 'false: clean and scan again to confirm'
  if (of === 'damage, not a crack') return 'damage: a person disposes of it'
  return 'nonrelevant: a person confirms'
}
