// SPDX-License-Identifier: Apache-2.0
// The stage: renderer, light, camera, and the one loop, which draws only when something changed.

import {
  AmbientLight,
  DirectionalLight,
  PerspectiveCamera,
  Scene,
  Vector2,
  WebGLRenderer,
} from "three";
import { Orbit } from "./orbit";

const FINEST = 2;
const COARSEST = 0.5;
/** ms a picture may take while the view moves, before it is drawn coarser. */
const SLOW = 70;
const REST = 220;

/** Whether the machine draws by its processor, where smooth edges cost three times the work. */
function drawsInSoftware(): boolean {
  const gl = document.createElement("canvas").getContext("webgl2");
  if (!gl) throw new Error("this browser has no WebGL");
  const more = gl.getExtension("WEBGL_debug_renderer_info");
  const name = String(more ? gl.getParameter(more.UNMASKED_RENDERER_WEBGL) : gl.getParameter(gl.RENDERER));
  gl.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|software|basic render/i.test(name);
}

export interface Told {
  /** After each picture: where labels go. */
  drawn: () => void;
  lost: (is: boolean) => void;
}

export class Stage {
  readonly scene = new Scene();
  readonly camera = new PerspectiveCamera(26, 1, 0.01, 10);
  readonly orbit: Orbit;
  readonly renderer: WebGLRenderer;
  readonly size = new Vector2(1, 1);
  /** ms of the last pictures in a row, for whoever measures. */
  took = 0;
  private asked = 0;
  private resting = 0;
  private before = 0;
  private ratio = 0;
  private wanted = FINEST;
  private readonly soft = drawsInSoftware();
  private readonly lamp = new DirectionalLight("#ffffff", 1.9);
  private readonly watch: ResizeObserver;
  private gone = false;
  /** Once: what was on the card then is no longer there to be given back. */
  wasLost = false;

  /** Throws where the browser has no WebGL. */
  constructor(
    private readonly place: HTMLElement,
    private readonly told: Told,
  ) {
    this.renderer = new WebGLRenderer({ antialias: !this.soft, alpha: true, stencil: true });
    this.wanted = this.finest();
    this.renderer.localClippingEnabled = true;
    this.renderer.setClearColor(0x000000, 0);
    this.setRatio(this.wanted);
    this.orbit = new Orbit(this.camera, () => this.dirty());
    this.scene.add(new AmbientLight("#ffffff", 1.35), this.lamp, this.lamp.target);
    const canvas = this.renderer.domElement;
    canvas.setAttribute("aria-hidden", "true");
    canvas.addEventListener("webglcontextlost", this.lost);
    canvas.addEventListener("webglcontextrestored", this.restored);
    place.prepend(canvas);
    this.watch = new ResizeObserver(() => this.resize());
    this.watch.observe(place);
    this.resize();
  }

  /** Draw again at the next chance. */
  dirty(): void {
    if (this.asked || this.gone) return;
    this.asked = requestAnimationFrame(this.draw);
  }

  private readonly draw = (now: number): void => {
    this.asked = 0;
    if (this.wanted !== this.ratio) this.setRatio(this.wanted); // clears the picture: not after drawing
    this.lamp.position.copy(this.camera.position).addScaledVector(this.camera.up, 0.4 * this.orbit.distance);
    this.lamp.target.position.copy(this.orbit.target);
    this.renderer.render(this.scene, this.camera);
    this.told.drawn();
    this.pace(now);
  };

  /** Coarser while pictures in a row are slow, fine again at rest. */
  private pace(now: number): void {
    const span = now - this.before;
    this.before = now;
    if (span < 1200) {
      this.took = this.took ? 0.7 * this.took + 0.3 * span : span;
      if (this.soft) this.wanted = Math.min(this.wanted, 1);
      if (this.took > SLOW) this.wanted = Math.max(COARSEST, 0.7 * this.wanted);
    }
    clearTimeout(this.resting);
    this.resting = window.setTimeout(() => {
      this.took = 0;
      this.wanted = this.finest();
      if (this.wanted !== this.ratio) this.dirty();
    }, REST);
  }

  /** At rest; without smooth edges, finer than the screen and shrunk by the browser. */
  private finest(): number {
    return this.soft ? FINEST : Math.min(devicePixelRatio || 1, FINEST);
  }

  private setRatio(ratio: number): void {
    this.ratio = ratio;
    this.renderer.setPixelRatio(ratio);
  }

  private resize(): void {
    const wide = Math.max(1, this.place.clientWidth), high = Math.max(1, this.place.clientHeight);
    if (this.size.x === wide && this.size.y === high) return;
    this.size.set(wide, high);
    this.renderer.setSize(wide, high);
    this.camera.aspect = wide / high;
    this.orbit.place();
  }

  private readonly lost = (event: Event): void => {
    event.preventDefault(); // else it never comes back
    this.wasLost = true;
    this.told.lost(true);
  };

  private readonly restored = (): void => {
    this.told.lost(false);
    this.dirty();
  };

  dispose(): void {
    this.gone = true;
    cancelAnimationFrame(this.asked);
    clearTimeout(this.resting);
    this.watch.disconnect();
    const canvas = this.renderer.domElement;
    canvas.removeEventListener("webglcontextlost", this.lost);
    canvas.removeEventListener("webglcontextrestored", this.restored);
    if (!this.wasLost) this.renderer.dispose();
    this.renderer.forceContextLoss(); // a browser allows only so many at a time
    canvas.remove();
  }
}
