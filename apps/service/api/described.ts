/** How an address is named in the document, for programs and those who write them. */
export const described = (operationId: string, about: string) => ({ operationId, summary: about })
