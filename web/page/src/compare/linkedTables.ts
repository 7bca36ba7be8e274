import type { RefObject } from 'preact';
import { useMemo } from 'preact/hooks';
import type { TableState } from '../table/useTable.ts';
import type { Viewport } from '../table/viewport.ts';

/** Several windows that show the same part of the film: the others follow the one that is moved. */
export interface LinkedTables {
  add(name: string, table: RefObject<TableState | null>): void;
  remove(name: string): void;
  /** From now on this one is followed. */
  lead(name: string): void;
  drawn(name: string, view: Viewport): void;
  /** The one that is followed; null before any is there. */
  leading(): TableState | null;
}

export function useLinkedTables(first: string): LinkedTables {
  return useMemo(() => {
    const tables = new Map<string, RefObject<TableState | null>>();
    let leader = first;
    return {
      add: (name, table) => tables.set(name, table),
      remove: (name) => tables.delete(name),
      lead: (name) => {
        leader = name;
      },
      drawn: (name, view) => {
        if (name !== leader) return;
        for (const [other, { current }] of tables) {
          if (other === leader || current === null) continue;
          const { xMm, yMm, pxPerMm } = view;
          const there = current.view;
          // A window may lay its film on a whole pixel of its own.
          const apart = Math.max(Math.abs(there.xMm - xMm), Math.abs(there.yMm - yMm)) * pxPerMm;
          if (there.pxPerMm !== pxPerMm || apart > 1) current.setView({ ...there, xMm, yMm, pxPerMm });
        }
      },
      leading: () => (tables.get(leader) ?? tables.values().next().value)?.current ?? null,
    };
  }, [first]);
}
