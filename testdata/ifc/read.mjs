// Reads an IFC file with web-ifc and prints what a reader sees: each piece with its
// tag, its bounding box in metres (x, y on the plan, z up) and its masses.
import { readFileSync } from "node:fs";
import { IfcAPI, IFCTANK, IFCBUILDINGELEMENTPROXY, IFCSPACE, IFCRELDEFINESBYPROPERTIES } from "web-ifc";

const api = new IfcAPI();
await api.Init();
const model = api.OpenModel(new Uint8Array(readFileSync(process.argv[2])), { CIRCLE_SEGMENTS: 128 });
const boxes = new Map();
api.StreamAllMeshes(model, (mesh) => {
  const box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (let i = 0; i < mesh.geometries.size(); i++) {
    const placed = mesh.geometries.get(i);
    const geometry = api.GetGeometry(model, placed.geometryExpressID);
    const vertices = api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
    const m = placed.flatTransformation;
    for (let v = 0; v < vertices.length; v += 6) {
      const [x, y, z] = [vertices[v], vertices[v + 1], vertices[v + 2]];
      // the reader turns the model so that y is up: back to the plan's axes
      const px = m[0] * x + m[4] * y + m[8] * z + m[12];
      const py = m[1] * x + m[5] * y + m[9] * z + m[13];
      const pz = m[2] * x + m[6] * y + m[10] * z + m[14];
      const p = [px, -pz, py];
      for (let k = 0; k < 3; k++) {
        box[k] = Math.min(box[k], p[k]);
        box[k + 3] = Math.max(box[k + 3], p[k]);
      }
    }
  }
  boxes.set(mesh.expressID, box);
});
const masses = new Map();
for (const id of api.GetLineIDsWithType(model, IFCRELDEFINESBYPROPERTIES)) {
  const rel = api.GetLine(model, id);
  const set = api.GetLine(model, rel.RelatingPropertyDefinition.value, true);
  const values = {};
  for (const p of set.HasProperties) values[p.Name.value] = p.NominalValue.value;
  for (const o of rel.RelatedObjects) masses.set(o.value, values);
}
const pieces = [];
for (const type of [IFCTANK, IFCBUILDINGELEMENTPROXY, IFCSPACE]) {
  for (const id of api.GetLineIDsWithType(model, type)) {
    const line = api.GetLine(model, id);
    pieces.push({ kind: type === IFCTANK ? "tank" : type === IFCSPACE ? "space" : "piece", name: line.Name.value, box: boxes.get(id) ?? null, properties: masses.get(id) ?? {} });
  }
}
pieces.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
console.log(JSON.stringify(pieces));
