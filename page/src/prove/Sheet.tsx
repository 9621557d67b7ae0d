// SPDX-License-Identifier: Apache-2.0

export default function Sheet() {
  return <h1>prove</h1>;
}
