// Lays out a graph with elkjs: `node elk.mjs FOLDER < graph.json`, where FOLDER has elkjs installed.
// Prints the seconds that it took and the graph with its places and routes.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const require = createRequire(process.argv[2] + "/");
const Elk = require("elkjs");
const graph = JSON.parse(readFileSync(0, "utf8"));
const before = process.cpuUsage();
new Elk().layout(graph).then((found) => {
  const used = process.cpuUsage(before);
  const seconds = (used.user + used.system) / 1e6;
  console.log(JSON.stringify({ seconds, version: require("elkjs/package.json").version, graph: found }));
});
