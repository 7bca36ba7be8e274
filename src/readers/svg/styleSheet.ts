import * as css from 'css-tree';

export interface StyleDeclaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

export interface StyleRule {
  readonly selector: css.Selector;
  /** Counts of ids, classes and types, as one number (Selectors 4, 17). */
  readonly specificity: number;
  readonly order: number;
  readonly declarations: readonly StyleDeclaration[];
}

export interface StyleProblem {
  readonly kind: 'syntax' | 'import' | 'mediaIgnored' | 'mediaPrint' | 'fontFace' | 'atRule';
  readonly detail: string;
}

export interface StyleSheet {
  readonly rules: readonly StyleRule[];
  readonly problems: readonly StyleProblem[];
}

/** The rules of the style elements in order. `@media` holds for all and print, as a film is printed matter. */
export function parseStyleSheets(
  texts: readonly { readonly css: string; readonly media: string | undefined }[],
): StyleSheet {
  const rules: StyleRule[] = [];
  const problems: StyleProblem[] = [];
  const visit = (nodes: css.List<css.CssNode>) => {
    for (const node of nodes) {
      if (node.type === 'Rule') addRule(node);
      else if (node.type === 'Atrule') addAtRule(node);
    }
  };
  const addRule = (rule: css.Rule) => {
    if (rule.prelude.type !== 'SelectorList') {
      problems.push({ kind: 'syntax', detail: css.generate(rule.prelude) });
      return;
    }
    const declarations = declarationsOf(rule.block);
    for (const selector of rule.prelude.children) {
      if (selector.type !== 'Selector') continue;
      rules.push({ selector, specificity: specificityOf(selector), order: rules.length, declarations });
    }
  };
  const addAtRule = (rule: css.Atrule) => {
    const prelude = rule.prelude === null ? '' : css.generate(rule.prelude);
    const name = rule.name.toLowerCase();
    if (name === 'media' && rule.block !== null) {
      const holds = mediaHolds(prelude);
      if (!holds) problems.push({ kind: 'mediaIgnored', detail: prelude });
      else if (/print/i.test(prelude)) problems.push({ kind: 'mediaPrint', detail: prelude });
      if (holds) visit(rule.block.children);
    } else if (name === 'import') problems.push({ kind: 'import', detail: prelude });
    else if (name === 'font-face') problems.push({ kind: 'fontFace', detail: familyOf(rule.block) });
    else if (name !== 'charset' && name !== 'namespace' && name !== 'page') {
      problems.push({ kind: 'atRule', detail: name });
    }
  };
  for (const { css: text, media } of texts) {
    if (media !== undefined && !mediaHolds(media)) {
      problems.push({ kind: 'mediaIgnored', detail: media });
      continue;
    }
    const tree = css.parse(text.replace(/<!--|-->/g, ' '), {
      parseValue: false,
      parseCustomProperty: false,
      onParseError: (error) => problems.push({ kind: 'syntax', detail: error.message }),
    });
    if (tree.type === 'StyleSheet') visit(tree.children);
  }
  return { rules, problems };
}

/** The declarations of a style attribute. */
export function parseStyleAttribute(text: string, onError: (message: string) => void): readonly StyleDeclaration[] {
  const tree = css.parse(text, {
    context: 'declarationList',
    parseValue: false,
    parseCustomProperty: false,
    onParseError: (error) => onError(error.message),
  });
  return tree.type === 'DeclarationList' ? declarationsOf(tree) : [];
}

function declarationsOf(block: css.Block | css.DeclarationList): StyleDeclaration[] {
  const declarations: StyleDeclaration[] = [];
  for (const node of block.children) {
    if (node.type !== 'Declaration') continue;
    const property = node.property.startsWith('--') ? node.property : node.property.toLowerCase();
    const value = css
      .generate(node.value)
      .replace(/\/\*.*?\*\//gs, ' ')
      .trim();
    declarations.push({ property, value, important: node.important !== false });
  }
  return declarations;
}

function familyOf(block: css.Block | null): string {
  const family = block === null ? undefined : declarationsOf(block).find(({ property }) => property === 'font-family');
  return (family?.value ?? '').replace(/["']/g, '');
}

function mediaHolds(query: string): boolean {
  const text = query.trim().toLowerCase();
  return (
    text === '' || text.split(',').some((part) => /^(only\s+)?(all|print)\b/.test(part.trim()) && !part.includes('('))
  );
}

function specificityOf(selector: css.Selector): number {
  let total = 0;
  for (const node of selector.children) {
    if (node.type === 'IdSelector') total += 1_000_000;
    else if (node.type === 'ClassSelector' || node.type === 'AttributeSelector') total += 1000;
    else if (node.type === 'TypeSelector') total += node.name === '*' ? 0 : 1;
    else if (node.type === 'PseudoElementSelector') total += 1;
    else if (node.type === 'PseudoClassSelector') {
      const name = node.name.toLowerCase();
      if (name === 'where') continue;
      const lists = node.children?.first;
      if ((name === 'is' || name === 'not') && lists?.type === 'SelectorList') {
        total += Math.max(0, ...lists.children.toArray().map((inner) => specificityOf(inner as css.Selector)));
      } else total += 1000;
    }
  }
  return total;
}
