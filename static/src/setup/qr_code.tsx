// SPDX-License-Identifier: Apache-2.0
// The rows of a QR code as one path: 1 is dark. Dark on white whatever the screen's colours are, for cameras.

export function QrCode({ rows, label }: { readonly rows: readonly string[]; readonly label: string }) {
  const path = rows.flatMap((row, y) =>
    Array.from(row, (module, x) => (module === "1" ? `M${x} ${y}h1v1h-1z` : "")),
  );
  return (
    <svg class="qr" viewBox={`0 0 ${rows.length} ${rows.length}`} role="img" aria-label={label}>
      <rect width={rows.length} height={rows.length} fill="#ffffff" />
      <path d={path.join("")} fill="#000000" shape-rendering="crispEdges" />
    </svg>
  );
}
