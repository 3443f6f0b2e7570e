import ts from 'typescript'
import { nodes, parse, placeOf, type Source } from './tree.ts'

/** A text that a person reads as the name of something: of a command, an option, a section, a column, a page. */
export interface Label {
  readonly text: string
  readonly place: string
}

/** A constant, property or attribute with such a name holds a label, a list of labels or a record of labels. */
const labelName = /(?:^|[a-z])(?:title|label|heading|caption|legend|summary|term)s?$|^(?:columns|heads?)$/i

/** Calls of the command line library that name a command, an option, an argument. */
const namingCalls = ['command', 'option', 'requiredOption', 'argument', 'Command', 'Option', 'Argument']

/** Elements of a page whose text names something. */
const namingElement = /<(h[1-6]|th|title|label|button|caption|summary|legend|dt|a)\b[^>]*>([^<]+)/g

export function labelsIn(source: Source): readonly Label[] {
  const found: Label[] = []
  for (const node of nodes(parse(source)))
    for (const text of [...named(node), ...called(node), ...listed(node), ...headed(node), ...marked(node)])
      found.push({ text, place: placeOf(node) })
  return found
}

function named(node: ts.Node): readonly string[] {
  if (!ts.isPropertyAssignment(node) && !ts.isVariableDeclaration(node) && !ts.isJsxAttribute(node)) return []
  const isNamed = labelName.test(node.name.getText().replaceAll(/['"]/g, ''))
  const texts = isNamed && node.initializer !== undefined ? textsOf(node.initializer) : []
  return texts.map((text) => text.replaceAll(/<[^<>]*>/g, ' '))
}

/** Texts in a label's value, keys and conditions left out. A hole of a template is cut out. */
function textsOf(node: ts.Node): readonly string[] {
  if (ts.isStringLiteralLike(node)) return [node.text]
  if (ts.isTemplateExpression(node)) return [node.head.text, ...node.templateSpans.map((span) => span.literal.text)]
  if (ts.isConditionalExpression(node)) return [...textsOf(node.whenTrue), ...textsOf(node.whenFalse)]
  if (ts.isPropertyAssignment(node)) return textsOf(node.initializer)
  const isHolder = ts.isArrayLiteralExpression(node) || ts.isObjectLiteralExpression(node)
  const isWrapper = ts.isAsExpression(node) || ts.isSatisfiesExpression(node) || ts.isParenthesizedExpression(node)
  const isJoin = ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.PlusToken
  return isHolder || isWrapper || isJoin || ts.isJsxExpression(node) ? childrenOf(node).flatMap(textsOf) : []
}

function childrenOf(node: ts.Node): readonly ts.Node[] {
  const all: ts.Node[] = []
  node.forEachChild((child) => void all.push(child))
  return all
}

/** A command in a list of commands: `{ name: 'examine', summary: '…' }`. */
function listed(node: ts.Node): readonly string[] {
  if (!ts.isObjectLiteralExpression(node)) return []
  const fields = node.properties.filter(ts.isPropertyAssignment)
  const name = fields.find((field) => field.name.getText() === 'name')
  const isCommand = fields.some((field) => field.name.getText() === 'summary')
  return isCommand && name !== undefined ? textsOf(name.initializer) : []
}

/** The first row of a printed table: `table([['zone', 'state'], …])`. */
function headed(node: ts.Node): readonly string[] {
  if (!ts.isCallExpression(node) || node.expression.getText() !== 'table') return []
  const [rows] = node.arguments
  const head = rows !== undefined && ts.isArrayLiteralExpression(rows) ? rows.elements[0] : undefined
  return head === undefined ? [] : textsOf(head)
}

/** `.option('-t, --technique <file>')` names "technique" and "file"; a short flag is no word. */
function called(node: ts.Node): readonly string[] {
  if (!ts.isCallExpression(node) && !ts.isNewExpression(node)) return []
  const { expression } = node
  const name = ts.isPropertyAccessExpression(expression) ? expression.name.text : expression.getText()
  const [first] = node.arguments ?? []
  if (!namingCalls.includes(name) || first === undefined || !ts.isStringLiteralLike(first)) return []
  return [first.text.replaceAll(/(^|[\s,])-\w\b/g, ' ').replaceAll(/--no-/g, '--')]
}

function marked(node: ts.Node): readonly string[] {
  if (ts.isJsxText(node)) return isNaming(node.parent) ? [node.text] : []
  if (!ts.isNoSubstitutionTemplateLiteral(node) && !ts.isTemplateExpression(node) && !ts.isStringLiteral(node))
    return []
  const text = ts.isTemplateExpression(node) ? withHoles(node) : node.text
  return [...text.matchAll(namingElement)].map(([, , inner]) => inner ?? '')
}

/** What a page says in whole sentences is no label; what names something is. */
const isNaming = (element: ts.Node): boolean => {
  if (!ts.isJsxElement(element)) return false
  return /^(h[1-6]|th|title|label|button|caption|summary|legend|dt|a|Link)$/.test(
    element.openingElement.tagName.getText()
  )
}

const withHoles = (node: ts.TemplateExpression): string =>
  [node.head.text, ...node.templateSpans.map((span) => span.literal.text)].join(' 0 ')
