// What three.js draws: a part with its edges, marked places, symbols of holds and
// loads, and the surface that a solution has moved and coloured. One renderer draws
// all parts in turn; each picture is copied to its own canvas, so that it can be
// printed and a page with many parts needs one WebGL context.
import * as three from "/three/three.js";

three.ColorManagement.enabled = false; // colours are those of the style sheet, unchanged
const renderer = new three.WebGLRenderer({ antialias: true, alpha: true, preserveDrawingBuffer: true });
renderer.outputColorSpace = three.LinearSRGBColorSpace;

const vector = (a) => new three.Vector3(a[0], a[1], a[2]);

// eye is how all parts are looked at.
export const eye = {
  first: null, // the first part sets it
  turned: new three.Quaternion(),
  zoom: 1,
  dx: 0, // pixels
  dy: 0,
  // start looks at the broad side of a box, its long side across.
  start(size) {
    if (eye.first) {
      return;
    }
    const axes = [0, 1, 2].sort((a, b) => size.getComponent(b) - size.getComponent(a));
    const [long, wide, thin] = axes.map((a) => new three.Vector3().setComponent(a, 1));
    if (long.clone().cross(wide).dot(thin) < 0) {
      wide.negate();
    }
    const toward = new three.Vector3().addScaledVector(thin, 0.75).addScaledVector(wide, -0.55).addScaledVector(long, -0.3).normalize();
    const right = thin.clone().cross(toward).normalize();
    const up = toward.clone().cross(right);
    eye.first = new three.Quaternion().setFromRotationMatrix(new three.Matrix4().makeBasis(right, up, toward));
    eye.reset();
  },
  reset() {
    eye.turned.copy(eye.first);
    eye.zoom = 1;
    eye.dx = eye.dy = 0;
  },
  // turn by angles about the upright and the level axis of the screen.
  turn(across, down) {
    const about = (x, y, angle) => new three.Quaternion().setFromAxisAngle(new three.Vector3(x, y, 0), angle);
    eye.turned.multiply(about(0, 1, -across)).multiply(about(1, 0, -down)).normalize();
  },
  nearer(times) {
    eye.zoom = Math.min(Math.max(eye.zoom * times, 0.3), 40);
  },
  shift(dx, dy) {
    eye.dx += dx;
    eye.dy += dy;
  },
};

// colour of the style sheet.
const colour = (name) => new three.Color(getComputedStyle(document.documentElement).getPropertyValue(name).trim());

const inFront = { polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -1 };
const behindLines = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };

// empty takes everything out of a group and frees what the graphics card holds of it.
function empty(group) {
  group.traverse((thing) => {
    thing.geometry?.dispose();
    thing.material?.dispose();
  });
  group.clear();
}

// mostLit is how many faces a part may have to be searched at every move of the mouse.
const mostLit = 300_000;

export class Part {
  constructor(packet) {
    const { head } = packet;
    this.head = head;
    const low = vector(head.low);
    const size = vector(head.high).sub(low);
    this.middle = low.clone().addScaledVector(size, 0.5);
    this.diagonal = size.length() || 1;
    this.low = low;
    this.size = size;
    eye.start(size);
    this.points = new three.BufferAttribute(packet.floats(3 * head.vertices), 3);
    this.corners = packet.naturals(3 * head.faces);
    this.owner = packet.integers(head.faces);
    this.scene = new three.Scene();
    this.camera = new three.OrthographicCamera();
    this.camera.up.set(0, 1, 0);
    this.lamp = new three.DirectionalLight(0xffffff, 0.5 * Math.PI);
    this.scene.add(new three.AmbientLight(0xffffff, 0.56 * Math.PI), this.lamp, this.lamp.target);
    this.drawn = new three.Group();
    this.body = this.surface(this.corners, { flatShading: true, side: three.DoubleSide, ...behindLines }, three.MeshLambertMaterial);
    const edges = new three.BufferGeometry().setAttribute("position", this.points)
      .setIndex(new three.BufferAttribute(packet.naturals(2 * head.edges), 1));
    this.edges = new three.LineSegments(edges, new three.LineBasicMaterial());
    this.marks = new three.Group();
    this.lit = new three.Group();
    this.drawn.add(this.body, this.edges, this.marks, this.lit);
    this.scene.add(this.drawn, this.axes());
    this.facesOf = new Map(); // corners of the faces of each place
    this.litIndex = -1;
  }

  surface(corners, look, Material) {
    const shape = new three.BufferGeometry().setAttribute("position", this.points).setIndex(new three.BufferAttribute(corners, 1));
    return new three.Mesh(shape, new Material(look));
  }

  // axes are three lines from the low corner of the box.
  axes() {
    const reach = 0.14 * this.diagonal;
    const from = this.low.clone().addScalar(-0.06 * this.diagonal);
    this.ends = [0, 1, 2].map((a) => from.clone().setComponent(a, from.getComponent(a) + reach));
    const lines = new three.BufferGeometry().setFromPoints(this.ends.flatMap((end) => [from, end]));
    this.axisLines = new three.LineSegments(lines, new three.LineBasicMaterial());
    return this.axisLines;
  }

  // fitting is the scale, pixels a millimetre, at which the part fits as it is seen
  // first, with room for symbols.
  fitting(w, h) {
    const extent = (x, y) => {
      const way = new three.Vector3(x, y, 0).applyQuaternion(eye.first);
      return Math.abs(way.x) * this.size.x + Math.abs(way.y) * this.size.y + Math.abs(way.z) * this.size.z + 0.01 * this.diagonal;
    };
    return Math.min((0.84 * w) / extent(1, 0), (0.7 * h) / extent(0, 1));
  }

  draw(canvas, w, h, scale) {
    this.colours();
    const pixels = scale * eye.zoom;
    const { camera } = this;
    camera.quaternion.copy(eye.turned);
    const toward = new three.Vector3(0, 0, 1).applyQuaternion(eye.turned);
    camera.position.copy(this.middle).addScaledVector(toward, 3 * this.diagonal);
    [camera.left, camera.right] = [(-w / 2 - eye.dx) / pixels, (w / 2 - eye.dx) / pixels];
    [camera.bottom, camera.top] = [(-h / 2 + eye.dy) / pixels, (h / 2 + eye.dy) / pixels];
    camera.near = 0;
    camera.far = 6 * this.diagonal;
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
    this.lamp.position.copy(this.middle).add(new three.Vector3(-0.4, 0.5, 1).applyQuaternion(eye.turned).multiplyScalar(this.diagonal));
    this.lamp.target.position.copy(this.middle);
    this.seen = { w, h };
    const fine = Math.min(devicePixelRatio || 1, 2) * (document.documentElement.classList.contains("paper") ? 2 : 1);
    renderer.setPixelRatio(fine);
    renderer.setSize(w, h, false);
    renderer.render(this.scene, camera);
    canvas.width = Math.round(w * fine);
    canvas.height = Math.round(h * fine);
    canvas.getContext("2d").drawImage(renderer.domElement, 0, 0, canvas.width, canvas.height);
  }

  colours() {
    this.body.material.color = colour("--view-part");
    this.edges.material.color = colour("--view-ink");
    this.axisLines.material.color = colour("--view-soft");
    this.scene.traverse((thing) => {
      if (thing.userData.colour) {
        thing.material.color = colour(thing.userData.colour);
      }
    });
  }

  // onScreen is where a point is drawn, pixels from the upper left.
  onScreen(at) {
    const p = at.clone().project(this.camera);
    return { x: ((p.x + 1) / 2) * this.seen.w, y: ((1 - p.y) / 2) * this.seen.h };
  }

  // holes tells where each number stands: at the mouth that looks to the eye.
  holes() {
    const toward = new three.Vector3(0, 0, 1).applyQuaternion(eye.turned);
    const all = this.shown ? this.solution.head.holes.map((one) => ({ number: one.number, ends: one.ends }))
      : this.head.places.filter((place) => place.number);
    return all.map(({ number, ends }) => {
      const facing = (end) => vector(end.out).dot(toward);
      const end = ends.reduce((a, b) => (facing(b) > facing(a) ? b : a));
      return { number, at: this.onScreen(vector(end.at)), away: facing(end) < -0.05 };
    });
  }

  axisEnds() {
    return this.ends.map((end) => this.onScreen(end));
  }

  // placeAt finds the place under a pixel, -1 for none.
  placeAt(x, y) {
    if (this.shown || !this.seen) {
      return -1;
    }
    const ray = new three.Raycaster();
    ray.setFromCamera(new three.Vector2((2 * x) / this.seen.w - 1, 1 - (2 * y) / this.seen.h), this.camera);
    const [hit] = ray.intersectObject(this.body);
    return hit ? this.owner[hit.faceIndex] : -1;
  }

  // quick tells whether a part is small enough to be searched at every move.
  quick() {
    return this.head.faces <= mostLit;
  }

  // free gives back what the graphics card holds.
  free() {
    empty(this.scene);
  }

  // light shows the place under the pointer; it tells whether that has changed.
  light(index) {
    if (index === this.litIndex) {
      return false;
    }
    this.litIndex = index;
    empty(this.lit);
    if (index >= 0) {
      this.lit.add(this.painted(index, "--view-lit", 0.55));
    }
    return true;
  }

  painted(index, name, opacity) {
    if (!this.facesOf.has(index)) {
      const corners = [];
      this.owner.forEach((place, face) => {
        if (place === index) {
          corners.push(...this.corners.subarray(3 * face, 3 * face + 3));
        }
      });
      this.facesOf.set(index, new Uint32Array(corners));
    }
    const paint = this.surface(this.facesOf.get(index), { transparent: true, opacity, side: three.DoubleSide, ...inFront }, three.MeshBasicMaterial);
    paint.userData.colour = name;
    return paint;
  }

  // mark draws the places that are held and loaded.
  mark(marks, loads) {
    empty(this.marks);
    for (const { use, index, marks: points } of marks) {
      if (index >= 0) {
        this.marks.add(this.painted(index, use === "fix" ? "--view-held" : "--view-loaded", 0.4));
      }
      if (use === "fix") {
        points.forEach((point) => this.marks.add(this.hold(vector(point.at), vector(point.out))));
      } else {
        this.loadAt(points, loads).forEach((symbol) => this.marks.add(symbol));
      }
    }
  }

  // loadAt draws what acts on a place: at the middle of a hole, or on a face.
  loadAt(points, loads) {
    const at = points.reduce((sum, point) => sum.add(vector(point.at)), new three.Vector3()).divideScalar(points.length);
    const out = [];
    if (loads.force) {
      out.push(this.arrow(at, vector(loads.force), "force"));
    }
    if (loads.moment) {
      out.push(this.arrow(at, vector(loads.moment), "moment"));
    }
    if (loads.pressure) {
      points.forEach((point) => out.push(this.arrow(vector(point.at), vector(point.out).negate(), "pressure")));
    }
    return out;
  }

  // hold is a cone on the surface with hatching behind it.
  hold(at, out) {
    const half = 0.4;
    const ring = [[-half, -half], [half, -half], [half, half], [-half, half]].map(([x, y]) => new three.Vector3(x, y, 1));
    const tip = new three.Vector3();
    const sides = ring.flatMap((p, i) => [tip, p, ring[(i + 1) % 4]]);
    const lines = ring.flatMap((p, i) => [tip, p, p, ring[(i + 1) % 4]]);
    for (let x = -half; x <= half + 0.01; x += half / 2) { // hatching of the ground it stands for
      for (const y of [-half, half]) {
        lines.push(new three.Vector3(x, y, 1), new three.Vector3(x + 0.2, y, 1.35));
      }
    }
    return this.symbol(sides, lines, at, out, 0.05 * this.diagonal, "--view-held");
  }

  // arrow has its head at a point: one for a force, two for a moment, and a bar at its
  // foot for a pressure.
  arrow(at, along, kind) {
    const round = 10;
    const sides = [];
    const head = (z) => {
      for (let k = 0; k < round; k++) {
        const rim = [k, k + 1].map((i) => {
          const t = (2 * Math.PI * i) / round;
          return new three.Vector3(0.11 * Math.cos(t), 0.11 * Math.sin(t), z + 0.32);
        });
        sides.push(new three.Vector3(0, 0, z), rim[0], rim[1], new three.Vector3(0, 0, z + 0.32), rim[1], rim[0]);
      }
    };
    head(0);
    const lines = [];
    for (const [x, y] of [[0, 0], [0.012, 0], [-0.012, 0], [0, 0.012], [0, -0.012]]) { // thicker than one pixel
      lines.push(new three.Vector3(x, y, 0.2), new three.Vector3(x, y, 1.2));
    }
    if (kind === "moment") {
      head(0.26);
    }
    if (kind === "pressure") {
      lines.push(new three.Vector3(-0.15, 0, 1.2), new three.Vector3(0.15, 0, 1.2), new three.Vector3(0, -0.15, 1.2), new three.Vector3(0, 0.15, 1.2));
    }
    const symbol = this.symbol(sides, lines, at, along.clone().negate(), 0.13 * this.diagonal, "--view-loaded");
    symbol.traverse((thing) => {
      thing.renderOrder = 2;
      if (thing.material) {
        thing.material.depthTest = false; // a load is seen through the part
        thing.material.transparent = true;
      }
    });
    return symbol;
  }

  // symbol stands on a point with its z axis along a direction.
  symbol(sides, lines, at, along, size, name) {
    const group = new three.Group();
    const body = new three.Mesh(new three.BufferGeometry().setFromPoints(sides), new three.MeshBasicMaterial({ side: three.DoubleSide, ...behindLines }));
    const edges = new three.LineSegments(new three.BufferGeometry().setFromPoints(lines), new three.LineBasicMaterial());
    body.userData.colour = name;
    edges.userData.colour = name === "--view-held" ? "--view-ink" : name;
    group.add(body, edges);
    group.position.copy(at);
    group.scale.setScalar(size);
    group.quaternion.setFromUnitVectors(new three.Vector3(0, 0, 1), along.clone().normalize());
    return group;
  }

  // solved takes what a solution found.
  solved(packet) {
    const { head } = packet;
    const points = packet.floats(3 * head.points);
    const moves = packet.floats(3 * head.points);
    const shares = [packet.floats(head.points), packet.floats(head.points)];
    const corners = packet.naturals(3 * head.faces);
    const rest = packet.floats(6 * head.edges);
    const restMoves = packet.floats(6 * head.edges);
    this.solution = { head, points, moves, shares, corners, rest, restMoves };
  }

  forget() {
    this.solution = null;
  }

  // shade shows a solution's surface by one of its scales, moved or at rest, or the
  // part as drawn; it returns the solution that is shown.
  shade(what, bent) {
    if (this.shown) {
      this.scene.remove(this.shown);
      empty(this.shown);
      this.shown = null;
    }
    this.drawn.visible = true;
    if (what === "drawn" || !this.solution) {
      return null;
    }
    const { head, points, moves, shares, corners, rest, restMoves } = this.solution;
    const times = bent ? head.times : 0;
    const moved = (all, by) => all.map((x, i) => x + times * by[i]);
    const at = moved(points, moves);
    const ramp = head.ramp.map((text) => new three.Color(text));
    const colours = new Float32Array(points.length);
    shares[Number(what)].forEach((share, i) => {
      const x = Math.min(Math.max(share, 0), 1) * (ramp.length - 1);
      const k = Math.min(Math.floor(x), ramp.length - 2);
      ramp[k].clone().lerp(ramp[k + 1], x - k).toArray(colours, 3 * i);
    });
    const shape = new three.BufferGeometry().setAttribute("position", new three.BufferAttribute(at, 3))
      .setAttribute("color", new three.BufferAttribute(colours, 3)).setIndex(new three.BufferAttribute(corners, 1));
    const body = new three.Mesh(shape, new three.MeshLambertMaterial({ vertexColors: true, flatShading: true, side: three.DoubleSide, ...behindLines }));
    const lines = (ends, look) => {
      const all = new three.LineSegments(new three.BufferGeometry().setAttribute("position", new three.BufferAttribute(ends, 3)), new three.LineBasicMaterial(look));
      all.userData.colour = "--view-ink";
      return all;
    };
    this.shown = new three.Group().add(body, lines(moved(rest, restMoves), {}));
    if (bent) {
      this.shown.add(lines(rest, { transparent: true, opacity: 0.3 }));
    }
    for (const sign of head.signs) {
      this.signs(sign).forEach((symbol) => this.shown.add(symbol));
    }
    this.drawn.visible = false;
    this.scene.add(this.shown);
    return head;
  }

  // signs draws a hold or a load where the solution has it. A hold is drawn at the
  // hole's mouths where it is one.
  signs({ kind, at, along }) {
    const where = vector(at);
    if (kind !== "hold") {
      return [this.arrow(where, vector(along), kind)];
    }
    const hole = this.solution.head.holes.find((one) => one.ends.length > 0 &&
      one.ends.reduce((sum, end) => sum.add(vector(end.at)), new three.Vector3()).divideScalar(one.ends.length).distanceTo(where) < 0.02 * this.diagonal);
    if (hole) {
      return hole.ends.map((end) => this.hold(vector(end.at), vector(end.out)));
    }
    const out = where.clone().sub(this.middle); // from the middle of the part outwards
    return [this.hold(where, out.length() > 0 ? out : new three.Vector3(0, 0, 1))];
  }
}
