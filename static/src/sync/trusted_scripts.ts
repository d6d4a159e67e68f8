// SPDX-License-Identifier: Apache-2.0
// The server's content policy lets no text become a script. Workers are named by text, so the page has to say
// which addresses it trusts: its own origin's, and nothing else.

interface Policies {
  readonly defaultPolicy: unknown;
  createPolicy(name: "default", rules: { createScriptURL: (address: string) => string }): unknown;
}

/** Say it once, before the first worker is made; browsers that know no such policy need nothing. */
export function trustOwnScripts(): void {
  const policies = (globalThis as { trustedTypes?: Policies }).trustedTypes;
  if (policies === undefined || policies.defaultPolicy) return;
  policies.createPolicy("default", {
    createScriptURL(address) {
      if (new URL(address, location.href).origin === location.origin) return address;
      throw new TypeError(`The script '${address.slice(0, 100)}' is not one of this app's.`);
    },
  });
}
