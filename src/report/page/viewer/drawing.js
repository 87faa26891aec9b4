// SPDX-License-Identifier: GPL-3.0-or-later
// Draws all pieces as one mesh and all edges as one object of lines. Where a piece lies, its colour and whether it is there
// stand in a texture, a row of it a thing, which the vertex shader looks up; a frame writes that and the view, nothing else.

import {
  BufferAttribute, BufferGeometry, Camera, DataTexture, DoubleSide, FloatType, Matrix3, Mesh, NearestFilter, RGBAFormat, Scene,
  ShaderMaterial, Vector2, WebGLRenderer,
} from 'three';

const texels = 4; // three rows of the motion with its shift; colour with alpha and hatching
const perLine = 256;

const lookUp = `
  uniform sampler2D rows;
  attribute float row;
  varying vec4 paint;
  vec4 texel(int k) {
    int i = int(row + 0.5);
    return texelFetch(rows, ivec2((i % ${perLine}) * ${texels} + k, i / ${perLine}), 0);
  }
  uniform mat3 view; // with the zoom
  uniform float depth;
  vec3 turnedBy(vec3 p, vec4 a, vec4 b, vec4 c) { return vec3(dot(a.xyz, p), dot(b.xyz, p), dot(c.xyz, p)); }
`;

const faceVertex = `${lookUp}
  uniform vec2 stretch;
  varying float tone;
  void main() {
    vec4 a = texel(0), b = texel(1), c = texel(2);
    paint = texel(3);
    vec3 p = view * (turnedBy(position, a, b, c) + vec3(a.w, b.w, c.w));
    vec3 n = normalize(view * turnedBy(normal, a, b, c) + vec3(0.0, 0.0, 1e-30));
    tone = 0.94 + 0.06 * dot(n, vec3(-0.34, 0.72, 0.6));
    gl_Position = vec4(p.xy * stretch, -p.z * depth, 1.0);
  }
`;

// Ordered dithering (B. E. Bayer, 1973) lets things fade without being sorted.
const faded = `
  varying vec4 paint;
  bool isLeftOut(float alpha) {
    vec2 cell = mod(floor(gl_FragCoord.xy), 4.0);
    vec2 high = floor(cell / 2.0), low = mod(cell, 2.0);
    float rank = 4.0 * mod(2.0 * low.x + 3.0 * low.y, 4.0) + mod(2.0 * high.x + 3.0 * high.y, 4.0);
    return alpha <= (rank + 0.5) / 16.0;
  }
`;

const faceFragment = `${faded}
  varying float tone;
  uniform float unit;
  float stripes(float along) { return step(0.72, fract(along / (7.0 * unit))); }
  void main() {
    float kind = floor(paint.w / 2.0 + 0.25);
    if (isLeftOut(paint.w - 2.0 * kind)) discard;
    vec2 at = gl_FragCoord.xy;
    float hatch = 0.0;
    if (kind == 1.0 || kind == 5.0) hatch = stripes(at.x - at.y);
    if (kind == 2.0 || kind == 5.0) hatch = max(hatch, stripes(at.x + at.y));
    if (kind == 3.0 || kind == 6.0) hatch = stripes(at.y * 1.4);
    if (kind == 4.0 || kind == 6.0) hatch = max(hatch, stripes(at.x * 1.4));
    gl_FragColor = vec4(paint.rgb * tone * (1.0 - 0.3 * hatch), 1.0);
  }
`;

// A region of a finding shines through: stripes of its colour, over everything.
const regionFragment = `${faded}
  uniform float unit;
  void main() {
    float kind = floor(paint.w / 2.0 + 0.25);
    vec2 at = gl_FragCoord.xy;
    float along = kind == 1.0 ? at.x + at.y : at.x - at.y;
    float wide = kind == 2.0 ? 0.5 : 0.62;
    if (fract(along / (9.0 * unit)) > wide) discard;
    gl_FragColor = vec4(kind == 1.0 ? vec3(1.0, 0.99, 0.97) : paint.rgb, 0.5);
  }
`;

// Lines of any width are ribbons that face the reader.
const lineVertex = `${lookUp}
  attribute vec3 other;
  attribute float side;
  uniform vec2 stretch;
  uniform vec2 pixel;
  uniform float width;
  void main() {
    vec4 a = texel(0), b = texel(1), c = texel(2);
    paint = texel(3);
    vec3 shift = vec3(a.w, b.w, c.w);
    vec3 p = view * (turnedBy(position, a, b, c) + shift), q = view * (turnedBy(other, a, b, c) + shift);
    vec2 way = (q.xy - p.xy) * stretch / pixel;
    float size = length(way);
    way = size > 1e-6 ? way / size : vec2(1.0, 0.0);
    vec2 across = vec2(-way.y, way.x) * side * width * 0.5 - way * width * 0.3;
    gl_Position = vec4(p.xy * stretch + across * pixel, -p.z * depth - 0.003 * depth, 1.0);
  }
`;

const lineFragment = `${faded}
  void main() {
    float kind = floor(paint.w / 2.0 + 0.25);
    if (isLeftOut(paint.w - 2.0 * kind)) discard;
    gl_FragColor = vec4(paint.rgb, 1.0);
  }
`;

class Rows {
  constructor(count) {
    this.height = Math.max(1, Math.ceil(count / perLine));
    this.numbers = new Float32Array(perLine * texels * 4 * this.height);
    this.texture = new DataTexture(this.numbers, perLine * texels, this.height, RGBAFormat, FloatType);
    this.texture.minFilter = this.texture.magFilter = NearestFilter;
    this.texture.generateMipmaps = false;
  }

  /** Nothing of the row is drawn. */
  hide(row) {
    this.numbers.fill(0, row * texels * 4, (row + 1) * texels * 4);
  }

  /** The matrix is 3 x 3, by rows; hatch is 0 for none. */
  set(row, matrix, shift, colour, alpha, hatch) {
    const at = row * texels * 4;
    for (let i = 0; i < 3; ++i) {
      this.numbers[at + 4 * i] = matrix[3 * i];
      this.numbers[at + 4 * i + 1] = matrix[3 * i + 1];
      this.numbers[at + 4 * i + 2] = matrix[3 * i + 2];
      this.numbers[at + 4 * i + 3] = shift[i];
    }
    this.numbers.set(colour, at + 12);
    this.numbers[at + 15] = 2 * hatch + alpha;
  }
}

/** Faces of all solids; each is { row, solid }. */
function faceGeometry(things) {
  const count = things.reduce((sum, { solid }) => sum + solid.triangles.length, 0);
  const position = new Float32Array(9 * count);
  const normal = new Float32Array(9 * count);
  const row = new Float32Array(3 * count);
  let at = 0;
  for (const { row: number, solid } of things) {
    for (const triangle of solid.triangles) {
      for (let k = 0; k < 3; ++k, ++at) {
        position.set(solid.corners[triangle[k]], 3 * at);
        normal.set(solid.normals[triangle[3]], 3 * at);
        row[at] = number;
      }
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(position, 3));
  geometry.setAttribute('normal', new BufferAttribute(normal, 3));
  geometry.setAttribute('row', new BufferAttribute(row, 1));
  return geometry;
}

/** Each thing is { row, segments: [[p, q], ...] }. */
function lineGeometry(things) {
  const count = things.reduce((sum, { segments }) => sum + segments.length, 0);
  const position = new Float32Array(12 * count);
  const other = new Float32Array(12 * count);
  const side = new Float32Array(4 * count);
  const row = new Float32Array(4 * count);
  const index = new Uint32Array(6 * count);
  let at = 0;
  for (const { row: number, segments } of things) {
    for (const [p, q] of segments) {
      position.set([...p, ...p, ...q, ...q], 12 * at);
      other.set([...q, ...q, ...p, ...p], 12 * at);
      side.set([1, -1, -1, 1], 4 * at); // the way back turns round what is left and right
      row.fill(number, 4 * at, 4 * at + 4);
      index.set([0, 1, 2, 2, 1, 3].map((k) => 4 * at + k), 6 * at);
      ++at;
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(position, 3));
  geometry.setAttribute('other', new BufferAttribute(other, 3));
  geometry.setAttribute('side', new BufferAttribute(side, 1));
  geometry.setAttribute('row', new BufferAttribute(row, 1));
  geometry.setIndex(new BufferAttribute(index, 1));
  return geometry;
}

export class Drawing {
  /** Null where the browser has no WebGL 2. */
  static on(canvas) {
    const context = canvas.getContext('webgl2', { alpha: true, antialias: true, premultipliedAlpha: true });
    return context === null ? null : new Drawing(canvas, context);
  }

  constructor(canvas, context) {
    this.renderer = new WebGLRenderer({ canvas, context, alpha: true, antialias: true });
    this.renderer.setClearColor(0x000000, 0);
    this.camera = new Camera();
    this.stretch = { value: new Vector2(1, 1) };
    this.pixel = { value: new Vector2(1, 1) };
    this.unit = { value: 1 };
    this.view = { value: new Matrix3() };
    this.depth = { value: 0.5 };
    this.scene = null;
  }

  /** faces, regions: [{ row, solid }]; lines, regionLines: [{ row, segments }]; count: of rows. */
  show({ faces, lines, regions, regionLines, count }) {
    if (this.scene !== null) this.#dispose();
    this.rows = new Rows(count);
    const rows = { value: this.rows.texture };
    const shared = { rows, stretch: this.stretch, unit: this.unit, view: this.view, depth: this.depth };
    const ribbon = (width) => ({ ...shared, pixel: this.pixel, width: { value: width } });
    const objects = [
      [faceGeometry(faces), { vertexShader: faceVertex, fragmentShader: faceFragment, uniforms: shared,
        polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }],
      [lineGeometry(lines), { vertexShader: lineVertex, fragmentShader: lineFragment, uniforms: ribbon(1.5) }],
      [faceGeometry(regions), { vertexShader: faceVertex, fragmentShader: regionFragment, uniforms: shared,
        transparent: true, depthTest: false, depthWrite: false }],
      [lineGeometry(regionLines), { vertexShader: lineVertex, fragmentShader: lineFragment, uniforms: ribbon(2.5),
        transparent: true, depthTest: false, depthWrite: false }],
    ];
    this.scene = new Scene();
    objects.forEach(([geometry, options], order) => {
      const mesh = new Mesh(geometry, new ShaderMaterial({ ...options, side: DoubleSide }));
      mesh.frustumCulled = false;
      mesh.renderOrder = order;
      this.scene.add(mesh);
    });
  }

  #dispose() {
    this.rows.texture.dispose();
    for (const mesh of this.scene.children) {
      mesh.geometry.dispose();
      mesh.material.dispose();
    }
  }

  /** In CSS pixels. */
  resize(width, height) {
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    this.renderer.setPixelRatio(ratio);
    this.renderer.setSize(width, height, false);
    const short = Math.min(width, height);
    this.stretch.value.set(short / width, short / height);
    this.pixel.value.set(2 / width, 2 / height);
    this.unit.value = ratio;
  }

  /** To be called after rows were written. */
  rowsChanged() {
    this.rows.texture.needsUpdate = true;
  }

  /** Draws what the rows say, seen under the rows of the matrix, which holds the zoom. */
  draw(view, zoom) {
    this.view.value.set(...view);
    this.depth.value = 0.5 / zoom;
    this.renderer.render(this.scene, this.camera);
  }
}
