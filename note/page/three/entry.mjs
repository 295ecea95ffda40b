// What the page uses of three.js. three.js beside it is the module build of version 0.187.0
// with what is named here; to take a newer version, or more of it:
//
//   mkdir /tmp/three && cd /tmp/three && npm install three@0.187.0 esbuild
//   cp SWAPWORTH/note/page/three/entry.mjs . && npx esbuild entry.mjs --bundle --minify \
//     --format=esm --legal-comments=inline --outfile=SWAPWORTH/note/page/three/three.js
//   cp node_modules/three/LICENSE SWAPWORTH/note/page/three/
export {
  AmbientLight, BufferAttribute, BufferGeometry, Color, ColorManagement, DirectionalLight, DoubleSide,
  Group, LinearSRGBColorSpace, LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshBasicMaterial,
  MeshLambertMaterial, OrthographicCamera, Quaternion, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "three";
