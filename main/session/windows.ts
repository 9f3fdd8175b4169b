import type { Caller, Handlers } from '../../shared/ipc/contract.ts';
import { serve } from '../../shared/ipc/server.ts';
import type { Transport } from '../../shared/ipc/transport.ts';
import type { Member, RoleNews, Roles } from './roles.ts';
import type { Client } from './session-service.ts';

export type WindowsParts = {
  /** those that are attached, for everyone who has to tell them something */
  readonly clients: Map<string, Client>;
  readonly roles: Roles;
  readonly handlers: Handlers;
  readonly tell: (news: readonly RoleNews[]) => void;
  readonly failed: (command: string, failure: unknown) => void;
  /** ports are watched while there is a window to show them in; returns what stops it */
  readonly watchPorts: () => () => void;
  readonly left: (clientId: string) => void;
  readonly changed: () => void;
};

/** Windows come and go; each is answered over its own transport, in the role that it has at that moment. */
export function createWindows({ clients, roles, handlers, tell, failed, watchPorts, left, changed }: WindowsParts): {
  readonly attach: (transport: Transport, member: Member) => () => void;
  readonly stopWatchingPorts: () => void;
} {
  let stopWatching: (() => void) | undefined;
  const stopWatchingPorts = (): void => {
    stopWatching?.();
    stopWatching = undefined;
  };
  return {
    attach(transport, member) {
      const { clientId } = member;
      clients.set(clientId, { transport, greeted: false });
      tell(roles.join(member));
      const caller = (): Caller => ({ clientId, role: roles.roleOf(clientId) });
      const stop = serve(transport, handlers, caller, failed);
      stopWatching ??= watchPorts();
      changed();
      return () => {
        if (!clients.delete(clientId)) return;
        stop();
        tell(roles.leave(clientId));
        left(clientId);
        if (clients.size === 0) stopWatchingPorts();
        changed();
      };
    },
    stopWatchingPorts,
  };
}
