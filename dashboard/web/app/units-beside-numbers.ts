// Whatever is shown keeps a number and its unit on one line, wherever its sentence comes from. What is typed and what
// is copied as a command stays as it is.

import { type ComponentChildren, Fragment, options, type VNode } from 'preact';
import { bindUnits } from '../../../words/bind-units.ts';

const AS_THEY_ARE: ReadonlySet<unknown> = new Set(['code', 'pre', 'textarea']);

const bindInside = (children: unknown): unknown => {
  if (typeof children === 'string') return bindUnits(children);
  return Array.isArray(children) ? children.map(bindInside) : children;
};

/** For every element that is drawn from now on. */
export const keepUnitsBesideNumbers = (): void => {
  const next = options.vnode;
  options.vnode = (node: VNode<{ children?: ComponentChildren }>) => {
    const isDrawn = typeof node.type === 'string' || node.type === Fragment;
    if (isDrawn && !AS_THEY_ARE.has(node.type) && node.props.children !== undefined)
      node.props.children = bindInside(node.props.children) as ComponentChildren;
    next?.(node);
  };
};
