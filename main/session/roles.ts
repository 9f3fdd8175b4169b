import type { Role } from '../../shared/ipc/session-commands.ts';

/** One window, as the roles see it. */
export type Member = { readonly clientId: string; readonly key: string; readonly grant: Role };

export type RoleNews = { readonly clientId: string; readonly role: Role; readonly reason: 'taken-over' | 'operator-left' | 'granted' };

/**
 * One operator, one instructor, any number of viewers. A grant says what a window may be: an operator's key may be anything, an instructor's
 * or a viewer's key no more than that.
 */
export interface Roles {
  /** @returns who else has to be told */
  join(member: Member): readonly RoleNews[];
  leave(clientId: string): readonly RoleNews[];
  /** Asks for another role. @returns who has to be told, or undefined when the key does not allow it */
  become(clientId: string, role: Role): readonly RoleNews[] | undefined;
  roleOf(clientId: string): Role;
  count(): number;
}

const single: ReadonlySet<Role> = new Set<Role>(['operator', 'instructor']);

export function createRoles(): Roles {
  const members = new Map<string, Member & { role: Role }>();
  /** what each key was last, so that a window which was taken over does not grab the controls back by reloading */
  const lastRoles = new Map<string, Role>();

  const holderOf = (role: Role) => [...members.values()].find((member) => member.role === role);

  const setRole = (clientId: string, role: Role): readonly RoleNews[] => {
    const member = members.get(clientId);
    if (member === undefined) return [];
    const news: RoleNews[] = [];
    const holder = single.has(role) ? holderOf(role) : undefined;
    if (holder !== undefined && holder.clientId !== clientId) {
      holder.role = 'viewer';
      lastRoles.set(holder.key, 'viewer');
      news.push({ clientId: holder.clientId, role: 'viewer', reason: 'taken-over' });
    }
    member.role = role;
    lastRoles.set(member.key, role);
    return news;
  };

  return {
    join(member) {
      const last = lastRoles.get(member.key);
      const free = holderOf(member.grant) === undefined;
      members.set(member.clientId, { ...member, role: 'viewer' });
      return setRole(member.clientId, last === undefined || free ? member.grant : last);
    },
    leave(clientId) {
      const left = members.get(clientId);
      members.delete(clientId);
      if (left?.role !== 'operator') return [];
      return [...members.values()].map(({ clientId: other, role }) => ({ clientId: other, role, reason: 'operator-left' as const }));
    },
    become(clientId, role) {
      const member = members.get(clientId);
      if (member === undefined) return undefined;
      const allowed = role === 'viewer' || member.grant === 'operator' || member.grant === role;
      if (!allowed) return undefined;
      return setRole(clientId, role);
    },
    roleOf: (clientId) => members.get(clientId)?.role ?? 'viewer',
    count: () => members.size,
  };
}
