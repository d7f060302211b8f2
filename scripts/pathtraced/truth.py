"""What the generator knows of a scene, in the form that scripts/score reads."""
import json
import bpy
from mathutils import Vector
from pose import FOCAL_35MM

GAP_M = 0.3


def seen_share(camera, thing):
    """Share of a plant's points that no other plant, straw or ground hides from the camera.

    Call it before there are loose clods: each ray would visit all of them.
    """
    scene, deps = bpy.context.scene, bpy.context.evaluated_depsgraph_get()
    eye = Vector(camera.at)
    points = thing.data.vertices
    step = max(1, len(points) // 60)
    tried = seen = 0
    for i in range(0, len(points), step):
        point = thing.matrix_world @ points[i].co
        if point.z < thing.location.z:
            continue
        way = point - eye
        far = way.length
        hit, _, _, _, what, _ = scene.ray_cast(deps, eye, way / far, distance=far - 0.0005)
        tried += 1
        seen += (not hit) or what.name == thing.name
    return seen / tried if tried else 0.0


def gaps_over(positions, low, high):
    ends = [low, *sorted(positions), high]
    return [{"fromM": round(a, 4), "toM": round(b, 4)} for a, b in zip(ends, ends[1:]) if b - a > GAP_M]


def write_truth(spec, camera, plants, laid):
    """Writes spec['out'] + '.truth.json'."""
    bpy.context.view_layer.update()
    ends, readings, corners = laid
    low, high = 0.0, spec["stretchM"]
    flat = lambda p: [round(c, 2) for c in camera.pixel(p)] if camera.pixel(p) else [-1, -1]
    listed = []
    for p in plants:
        at = camera.pixel(p["at"])
        if not camera.inside(at):
            continue
        one = {"alongM": round(p["at"][0], 4), "acrossM": round(p["at"][1], 4), "xPx": round(at[0], 2), "yPx": round(at[1], 2),
               "stage": p["stage"], "kind": p["kind"], "heightM": round(p["heightM"], 3)}
        if "thing" in p:
            one["visibleShare"] = round(seen_share(camera, p["thing"]), 3)
        listed.append({**one, "inPicture": True, "inStretch": p["kind"] == "plant" and low <= p["at"][0] <= high})
    row = [p["alongM"] for p in listed if p["inStretch"]]
    place = lambda r: {"xPx": flat(r[1])[0], "yPx": flat(r[1])[1], "readingM": r[0], "alongM": round(r[1][0], 4), "heightM": round(r[1][2], 4)}
    truth = {
        "schema": "rowledger/truth@1", "image": spec["name"] + ".jpg", "rendered": True, "holdOut": True, "seed": spec["seed"],
        "tags": spec["tags"], "countArgs": spec["countArgs"],
        "camera": {"focalPx": round(camera.focal, 3), "focal35mm": FOCAL_35MM, "cxPx": camera.cx, "cyPx": camera.cy,
                   "positionGroundM": [round(c, 4) for c in camera.at], "gravityCamera": [round(c, 5) for c in camera.gravity()],
                   "heightM": round(camera.at[2], 3)},
        "widthPx": camera.width, "heightPx": camera.height, "photoToGround": camera.photo_to_ground(),
        "reference": {"kind": spec["reference"]["kind"], "endsPx": [flat(p) for _, p in ends], "endsM": [r for r, _ in ends],
                      "endsInPicture": [camera.inside(camera.pixel(p)) for _, p in ends],
                      "readings": [place(r) for r in readings if camera.inside(camera.pixel(r[1]))],
                      "corners": [{"of": of, "px": [flat(p) for p in some]} for of, some in corners]},
        "stretch": {"fromM": low, "toM": high}, "rowWidthM": spec["rowWidthM"], "seedSpacingM": spec["spacingM"],
        "count": len(row), "plants": listed, "gaps30cm": gaps_over(row, low, high),
    }
    with open(spec["out"] + ".truth.json", "w") as file:
        json.dump(truth, file)
