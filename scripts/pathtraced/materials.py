"""Surfaces. Colours are linear reflectances as measured materials have them: a leaf reflects 5 % red, 12 % green."""
import bpy


class Nodes:
    """A new material's node tree, built by short calls."""

    def __init__(self, name):
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.tree.nodes.clear()

    def add(self, kind, **inputs):
        """A node; inputs by socket name (spaces as _) or `i0`, `i1` by number, attributes with a leading `set_`."""
        node = self.tree.nodes.new(kind)
        for name, value in inputs.items():
            if name.startswith("set_"):
                setattr(node, name[4:], value)
        for name, value in inputs.items():
            if name.startswith("set_"):
                continue
            socket = node.inputs[int(name[1:])] if name[0] == "i" and name[1:].isdigit() else node.inputs[name.replace("_", " ")]
            self.feed(socket, value)
        return node

    def feed(self, socket, value):
        if isinstance(value, bpy.types.NodeSocket):
            self.tree.links.new(value, socket)
        elif isinstance(value, bpy.types.Node):
            self.tree.links.new(value.outputs[0], socket)
        else:
            socket.default_value = value

    def math(self, operation, a, b=0.0, clamp=False):
        return self.add("ShaderNodeMath", set_operation=operation, set_use_clamp=clamp, i0=a, i1=b).outputs[0]

    def mix(self, share, a, b):
        return self.add("ShaderNodeMixRGB", i0=share, i1=a, i2=b).outputs[0]

    def noise(self, scale, detail=4.0, where=None, rough=0.55):
        node = self.add("ShaderNodeTexNoise", Scale=scale, Detail=detail, Roughness=rough)
        if where is not None:
            self.feed(node.inputs["Vector"], where)
        return node.outputs["Fac"]

    def steps(self, value, low, high):
        node = self.add("ShaderNodeMapRange", i0=value, i1=low, i2=high)
        return node.outputs[0]

    def done(self, surface):
        out = self.tree.nodes.new("ShaderNodeOutputMaterial")
        self.feed(out.inputs["Surface"], surface)
        return self.material


def rgb(r, g, b):
    return (r, g, b, 1.0)


def tissue(name, green, yellow, *, veins, through, gloss, dull=0.35):
    """Plant tissue: diffuse light, light that comes through, and a waxy gloss over both."""
    n = Nodes(name)
    tint = n.add("ShaderNodeSeparateColor", i0=n.add("ShaderNodeAttribute", set_attribute_name="tint").outputs["Color"])
    where = n.add("ShaderNodeNewGeometry").outputs["Position"]
    spots = n.steps(n.noise(260, 1, where), 0.3, 0.75)
    colour = n.mix(n.math("MULTIPLY", tint.outputs[1], 1.0, True), green, yellow)
    colour = n.mix(n.math("MULTIPLY", spots, 0.28), colour, rgb(green[0] * 0.55, green[1] * 0.62, green[2] * 0.6))
    bump = spots
    if veins:
        uv = n.add("ShaderNodeSeparateXYZ", i0=n.add("ShaderNodeUVMap", set_uv_map="uv").outputs[0])
        off = n.math("ABSOLUTE", uv.outputs[0])
        rib = n.math("SUBTRACT", 1.0, n.steps(off, 0.012, 0.05))
        wave = n.math("ABSOLUTE", n.math("SINE", n.math("MULTIPLY", uv.outputs[1], 6.5 * 3.14159)))
        twig = n.math("MULTIPLY", n.math("SUBTRACT", 1.0, n.steps(wave, 0.05, 0.28)), n.math("SUBTRACT", 0.85, off, True))
        vein = n.math("MAXIMUM", rib, twig, True)
        pale = rgb(green[0] * 2.0 + 0.03, green[1] * 1.55 + 0.02, green[2] * 1.8 + 0.01)
        colour = n.mix(n.math("MULTIPLY", vein, 0.5), colour, pale)
        bump = n.math("SUBTRACT", n.math("MULTIPLY", bump, 0.25), vein)
    bright = n.add("ShaderNodeHueSaturation", Value=tint.outputs[0], Color=colour).outputs[0]
    normal = n.add("ShaderNodeBump", Strength=0.35, Distance=0.0006, Height=bump).outputs[0]
    flesh = n.add("ShaderNodeBsdfDiffuse", Color=bright, Normal=normal).outputs[0]
    if through > 0:
        lit = n.add("ShaderNodeHueSaturation", Saturation=1.25, Value=1.15, Color=bright).outputs[0]
        light = n.add("ShaderNodeBsdfTranslucent", Color=lit, Normal=normal).outputs[0]
        flesh = n.add("ShaderNodeMixShader", i0=through, i1=flesh, i2=light).outputs[0]
    shine = n.add("ShaderNodeBsdfGlossy", Color=rgb(0.9, 0.95, 1), Roughness=dull, Normal=normal).outputs[0]
    edge = n.add("ShaderNodeLayerWeight", Blend=0.18, Normal=normal).outputs["Fresnel"]
    return n.done(n.add("ShaderNodeMixShader", i0=n.math("MULTIPLY", edge, gloss), i1=flesh, i2=shine).outputs[0])


def bean_materials(rng):
    """Leaf, stalk and cotyledon of one variety under one weather."""
    k = rng.uniform(0.85, 1.2)
    leaf = tissue("leaf", rgb(0.075 * k * rng.uniform(0.8, 1.25), 0.145 * k, 0.036 * k * rng.uniform(0.7, 1.5)),
                  rgb(0.23, 0.27, 0.05), veins=True, through=0.38, gloss=rng.uniform(0.4, 0.95), dull=rng.uniform(0.28, 0.5))
    purple = rng.random()
    stalk = tissue("stalk", rgb(0.17, 0.25, 0.07), rgb(0.22 - 0.02 * purple, 0.16 - 0.05 * purple, 0.08 + 0.02 * purple),
                   veins=False, through=0.15, gloss=0.5)
    seed_leaf = tissue("seed leaf", rgb(0.2, 0.26, 0.07), rgb(0.3, 0.2, 0.08), veins=False, through=0.1, gloss=0.5)
    return [leaf, stalk, seed_leaf]


def weed_materials(rng):
    """Grass, broad leaf, and a stalk."""
    grass = tissue("grass", rgb(0.07, 0.16, 0.03), rgb(0.25, 0.24, 0.08), veins=False, through=0.35, gloss=0.6)
    k = rng.uniform(0.8, 1.2)
    broad = tissue("broad", rgb(0.06 * k, 0.12 * k, 0.04), rgb(0.16, 0.07, 0.06), veins=True, through=0.35, gloss=0.5)
    return [grass, broad, tissue("weed stalk", rgb(0.14, 0.17, 0.06), rgb(0.25, 0.08, 0.07), veins=False, through=0.1, gloss=0.4)]


SOILS = {
    "brown": (rgb(0.105, 0.07, 0.045), rgb(0.2, 0.14, 0.092)),
    "dark": (rgb(0.035, 0.027, 0.02), rgb(0.085, 0.064, 0.046)),
    "red": (rgb(0.14, 0.062, 0.034), rgb(0.25, 0.125, 0.072)),
    "pale": (rgb(0.23, 0.185, 0.135), rgb(0.4, 0.335, 0.26)),
    "grey": (rgb(0.12, 0.108, 0.092), rgb(0.25, 0.228, 0.2)),
}


def soil_material(rng, kind, prints):
    """Soil: two tones in patches and grains, damp spots darker, fine crumbs as bump; all from the tile `grain.png`."""
    n = Nodes("soil")
    low, high = SOILS[kind]
    where = n.add("ShaderNodeNewGeometry").outputs["Position"]
    tile = bpy.data.images.load(f"{prints}/grain.png")
    tile.colorspace_settings.is_data = True

    def look(width, turn):
        spot = n.add("ShaderNodeMapping", Location=(rng.random(), rng.random(), 0), Rotation=(0, 0, turn), Scale=(1 / width,) * 3)
        n.feed(spot.inputs["Vector"], where)
        return n.add("ShaderNodeSeparateColor", i0=n.add("ShaderNodeTexImage", set_image=tile, Vector=spot).outputs[0])

    fine, coarse, broad = look(0.21, 0.3), look(0.83, 1.1), look(4.1, 2.0)
    mixed = n.math("ADD", n.math("MULTIPLY", fine.outputs[0], 0.5),
                   n.math("ADD", n.math("MULTIPLY", coarse.outputs[1], 0.35), n.math("MULTIPLY", broad.outputs[1], 0.4)))
    colour = n.mix(n.steps(mixed, 0.4, 0.85), low, high)
    colour = n.mix(n.math("MULTIPLY", n.steps(broad.outputs[2], 0.5, 0.65), rng.uniform(0, 0.5)), colour, low)
    bump = n.math("ADD", n.math("MULTIPLY", fine.outputs[2], 0.7), n.math("MULTIPLY", coarse.outputs[0], 1.0))
    normal = n.add("ShaderNodeBump", Strength=0.8, Distance=0.006, Height=bump).outputs[0]
    return n.done(n.add("ShaderNodeBsdfDiffuse", Color=colour, Roughness=0.6, Normal=normal).outputs[0])


def plain(name, colour, gloss=0.0, dull=0.4, uneven=0.15, scale=60):
    """A plain thing, slightly uneven and dirty."""
    n = Nodes(name)
    where = n.add("ShaderNodeNewGeometry").outputs["Position"]
    dirt = n.math("MULTIPLY", n.steps(n.noise(scale, 2, where), 0.35, 0.8), uneven)
    tone = n.mix(dirt, colour, rgb(colour[0] * 0.4, colour[1] * 0.36, colour[2] * 0.3))
    flesh = n.add("ShaderNodeBsdfDiffuse", Color=tone).outputs[0]
    if gloss <= 0:
        return n.done(flesh)
    shine = n.add("ShaderNodeBsdfGlossy", Roughness=dull).outputs[0]
    edge = n.add("ShaderNodeLayerWeight", Blend=0.2).outputs["Fresnel"]
    return n.done(n.add("ShaderNodeMixShader", i0=n.math("MULTIPLY", edge, gloss), i1=flesh, i2=shine).outputs[0])


def printed(name, file, gloss=0.3, dirt=0.25, black=0.03):
    """A print or tape: the picture `file` over the texture coordinates, never blacker than ink, with some dust."""
    n = Nodes(name)
    image = n.add("ShaderNodeTexImage", set_image=bpy.data.images.load(file), set_extension="EXTEND", set_interpolation="Cubic")
    tone = n.mix(black, image.outputs[0], rgb(0.8, 0.8, 0.8))
    where = n.add("ShaderNodeNewGeometry").outputs["Position"]
    dust = n.math("MULTIPLY", n.steps(n.noise(45, 3, where, 0.7), 0.45, 0.8), dirt)
    tone = n.mix(dust, n.mix(0.14, tone, rgb(0, 0, 0)), rgb(0.16, 0.12, 0.08))
    flesh = n.add("ShaderNodeBsdfDiffuse", Color=tone).outputs[0]
    shine = n.add("ShaderNodeBsdfGlossy", Roughness=0.35).outputs[0]
    edge = n.add("ShaderNodeLayerWeight", Blend=0.2).outputs["Fresnel"]
    return n.done(n.add("ShaderNodeMixShader", i0=n.math("MULTIPLY", edge, gloss), i1=flesh, i2=shine).outputs[0])
