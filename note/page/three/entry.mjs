// What the page uses of three.js; see docs/page.md for how three.js is made of it.
export {
  AmbientLight, BufferAttribute, BufferGeometry, Color, ColorManagement, DirectionalLight, DoubleSide,
  Group, LinearSRGBColorSpace, LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshBasicMaterial,
  MeshLambertMaterial, OrthographicCamera, Quaternion, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "three";
