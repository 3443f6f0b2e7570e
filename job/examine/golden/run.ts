/**
 * The golden examinations of all three applications, as canonical JSON: no Node, no clock, no random source, so that Node
 * 20, Node 24 and a browser can be held to equal bytes. What they are made of lies with the tests.
 */
export { goldenExaminations } from '../testing/golden.ts'
