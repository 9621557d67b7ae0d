// SPDX-License-Identifier: Apache-2.0
import { render } from "preact";
import "./style.css";
import { Shell } from "./shell/Shell";

const place = document.getElementById("page");
if (place) render(<Shell />, place);
