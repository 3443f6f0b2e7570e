export declare function checkNode(version?: string): void
