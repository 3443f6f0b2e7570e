import { describe, it } from 'vitest'
import { findTool, type ToolName } from '../scripts/lib/tools.mjs'

export type { ToolName }

/** Path of an outside tool's program (for a Python module: of the python3 that has it); undefined where it is missing. */
export const tool = (name: ToolName): string | undefined => findTool(name)

/** How a test that lacks a tool is marked in its name; the runner's closing table is made from it. */
export const missingMark = (name: ToolName): string => `{needs: ${name}}`

/**
 * A `describe` that needs an outside tool: `needsTool('scipy', 'readers', (python) => { it(…) })`.
 * Where it is missing the tests are skipped by name; with TRUELOOP_ALL=1 they fail instead.
 * The body is run in any case, so that its tests are counted: it may use the path only inside `it` and the hooks.
 */
export function needsTool(name: ToolName, title: string, body: (path: string) => void): void {
  const found = tool(name)
  if (found !== undefined) describe(title, () => body(found))
  else if (process.env.TRUELOOP_ALL === '1') describe(title, () => it(`has ${name}`, () => lacking(name)))
  else describe.skip(`${title} ${missingMark(name)}`, () => body(''))
}

function lacking(name: ToolName): never {
  throw new Error(`${name} is missing and TRUELOOP_ALL=1 makes that a failure: npm run outside -- --yes`)
}
