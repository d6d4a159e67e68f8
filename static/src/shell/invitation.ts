// SPDX-License-Identifier: Apache-2.0
// What an address brings for a device that is not known yet: a code somebody scanned, or the link of `init`. It is
// taken out of the address at once, so that it stands in no history.

export type Invitation = { readonly by: "code" | "first"; readonly code: string } | undefined;

export function takeInvitation(): Invitation {
  const found = /^#(code|first)=([0-9A-Za-z-]{1,40})$/.exec(location.hash);
  if (found === null) return undefined;
  history.replaceState(null, "", location.pathname);
  const [, by, code = ""] = found;
  return { by: by === "first" ? "first" : "code", code };
}
