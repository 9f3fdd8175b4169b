import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createRoles } from '../../../main/session/roles.ts';
import { roles as allRoles, type Role } from '../../../shared/ipc/session-commands.ts';

const member = (clientId: string, grant: Role, key = clientId) => ({ clientId, key, grant });

describe('roles', () => {
  it('give the first window its right', () => {
    const roles = createRoles();
    expect(roles.join(member('a', 'operator'))).toEqual([]);
    expect(roles.roleOf('a')).toBe('operator');
  });

  it('let a new operator take over, and tell the old one only', () => {
    const roles = createRoles();
    roles.join(member('a', 'operator'));
    roles.join(member('v', 'viewer'));
    expect(roles.join(member('b', 'operator'))).toEqual([{ clientId: 'a', role: 'viewer', reason: 'taken-over' }]);
    expect(['a', 'b', 'v'].map((id) => roles.roleOf(id))).toEqual(['viewer', 'operator', 'viewer']);
  });

  it('do not let the one that was taken over grab the controls back by reloading', () => {
    const roles = createRoles();
    roles.join(member('a', 'operator'));
    roles.join(member('b', 'operator'));
    roles.leave('a');
    expect(roles.join(member('a2', 'operator', 'a'))).toEqual([]);
    expect(roles.roleOf('a2')).toBe('viewer');
    expect(roles.roleOf('b')).toBe('operator');
  });

  it('give the operator the controls back after a reload', () => {
    const roles = createRoles();
    roles.join(member('a', 'operator'));
    roles.leave('a');
    roles.join(member('a2', 'operator', 'a'));
    expect(roles.roleOf('a2')).toBe('operator');
  });

  it('give them to a reloading window when nobody else has them any more', () => {
    const roles = createRoles();
    roles.join(member('a', 'operator'));
    roles.join(member('b', 'operator'));
    roles.leave('b');
    roles.leave('a');
    roles.join(member('a2', 'operator', 'a'));
    expect(roles.roleOf('a2')).toBe('operator');
  });

  it('tell the others when the operator has gone', () => {
    const roles = createRoles();
    roles.join(member('a', 'operator'));
    roles.join(member('v', 'viewer'));
    expect(roles.leave('a')).toEqual([{ clientId: 'v', role: 'viewer', reason: 'operator-left' }]);
    expect(roles.leave('a')).toEqual([]);
  });

  it('never go beyond what the key allows', () => {
    const roles = createRoles();
    roles.join(member('v', 'viewer'));
    roles.join(member('i', 'instructor'));
    expect(roles.become('v', 'operator')).toBeUndefined();
    expect(roles.become('v', 'instructor')).toBeUndefined();
    expect(roles.become('i', 'operator')).toBeUndefined();
    expect(roles.become('nobody', 'viewer')).toBeUndefined();
    expect(roles.become('i', 'viewer')).toEqual([]);
    expect(roles.become('i', 'instructor')).toEqual([]);
  });

  it('hold at most one operator and one instructor, whatever happens', () => {
    const id = fc.constantFrom('a', 'b', 'c', 'd');
    const role = fc.constantFrom(...allRoles);
    const step = fc.oneof(
      fc.record({ kind: fc.constant('join' as const), id, role }),
      fc.record({ kind: fc.constant('leave' as const), id, role }),
      fc.record({ kind: fc.constant('become' as const), id, role }),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
        const roles = createRoles();
        const inside = new Set<string>();
        for (const { kind, id: clientId, role: wanted } of steps) {
          if (kind === 'join' && !inside.has(clientId)) {
            inside.add(clientId);
            roles.join(member(clientId, wanted));
          }
          if (kind === 'leave') {
            inside.delete(clientId);
            roles.leave(clientId);
          }
          if (kind === 'become') roles.become(clientId, wanted);
          const held = [...inside].map((one) => roles.roleOf(one));
          expect(held.filter((one) => one === 'operator').length).toBeLessThanOrEqual(1);
          expect(held.filter((one) => one === 'instructor').length).toBeLessThanOrEqual(1);
          expect(roles.count()).toBe(inside.size);
        }
      }),
    );
  });
});
