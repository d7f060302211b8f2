"""Sky, sun, exposure as a phone sets it, and the rendering itself."""
import bpy
from math import log2, radians
from mathutils import Matrix
from materials import plain, rgb


def set_light(rng, spec, camera):
    """A clear sky with its sun, a hazy one, or an overcast one; the photographer's shadow where asked for."""
    scene = bpy.context.scene
    world = bpy.data.worlds.new("sky")
    scene.world = world
    world.use_nodes = True
    tree = world.node_tree
    background = tree.nodes["Background"]
    light = spec["light"]
    if light["kind"] == "overcast":
        where = tree.nodes.new("ShaderNodeTexCoord")
        split = tree.nodes.new("ShaderNodeSeparateXYZ")
        tree.links.new(where.outputs["Generated"], split.inputs[0])
        ramp = tree.nodes.new("ShaderNodeMapRange")
        ramp.inputs[3].default_value, ramp.inputs[4].default_value = 0.35, 1.05
        tree.links.new(split.outputs[2], ramp.inputs[0])
        tree.links.new(ramp.outputs[0], background.inputs["Strength"])
        background.inputs["Color"].default_value = (0.9, 0.96, 1.0, 1)
    else:
        sky = tree.nodes.new("ShaderNodeTexSky")
        sky.sky_type = "NISHITA"
        sky.sun_elevation, sky.sun_rotation = radians(light["elevationDeg"]), radians(light["azimuthDeg"])
        sky.dust_density = 5.0 if light["kind"] == "hazy" else 1.2
        sky.sun_size = radians(5.0 if light["kind"] == "hazy" else 0.545)
        if light["kind"] == "hazy":
            sky.sun_intensity = 0.15
        else:
            sky.sun_intensity = 0.22
        tree.links.new(sky.outputs[0], background.inputs["Color"])
    if spec.get("ownShadow"):
        dress_photographer(spec, camera)


def dress_photographer(spec, camera):
    """A body that only casts its shadow, behind the camera."""
    down = spec["view"] == "down"
    back = 0.95 if down else 0.25
    x, y, _ = camera.at
    ahead = (0, 1, 0) if down else camera.ahead
    size = (ahead[0] ** 2 + ahead[1] ** 2) ** 0.5
    at = (x - ahead[0] / size * back, y - ahead[1] / size * back)
    cloth = plain("cloth", rgb(0.1, 0.1, 0.14))
    for radius, depth, z in ((0.2, 0.85, 1.15), (0.11, 0.24, 1.7), (0.13, 0.8, 0.4)):
        bpy.ops.mesh.primitive_cylinder_add(radius=radius, depth=depth, location=(*at, z), vertices=24)
        body = bpy.context.object
        body.data.materials.append(cloth)
        body.visible_camera = False
        body.visible_glossy = False


def set_camera(camera):
    scene = bpy.context.scene
    eye = bpy.data.objects.new("eye", bpy.data.cameras.new("eye"))
    scene.collection.objects.link(eye)
    eye.data.sensor_fit = "HORIZONTAL"
    eye.data.sensor_width = 36
    eye.data.lens = 36 * camera.focal / camera.width
    eye.data.clip_start, eye.data.clip_end = 0.05, 100
    eye.matrix_world = Matrix(camera.matrix_world())
    scene.camera = eye
    scene.render.resolution_x, scene.render.resolution_y = camera.width, camera.height


def mean_light(file):
    """Mean linear (red, green, blue) of a thumbnail."""
    scene = bpy.context.scene
    scene.render.resolution_percentage = 6
    scene.cycles.samples = 24
    scene.render.image_settings.file_format = "OPEN_EXR"
    scene.render.image_settings.color_mode = "RGB"
    scene.render.filepath = file
    bpy.ops.render.render(write_still=True)
    image = bpy.data.images.load(file)
    values = image.pixels[:]
    n = len(values) // image.channels
    step = image.channels
    bpy.data.images.remove(image)
    return [sum(min(8.0, v) for v in values[c::step]) / n for c in range(3)]


def expose(spec):
    """White balance by what a grey world would look like; exposure half by that, half by the picture's own mean."""
    scene = bpy.context.scene
    file = spec["out"] + ".thumb.exr"
    own = mean_light(file)
    scene.view_layers[0].material_override = plain("grey", rgb(0.18, 0.18, 0.18), uneven=0)
    grey = mean_light(file)
    scene.view_layers[0].material_override = None
    print("LIGHT", own, grey)
    view = scene.view_settings
    warm = spec.get("castKept", 0.25)
    view.use_curve_mapping = True
    view.curve_mapping.white_level = [(c / grey[1]) ** (1 - warm) for c in grey]
    view.curve_mapping.update()
    # Shadows pull the mean under that of flat ground: 0.15, not 0.18.
    by_grey, by_own = 0.15 / grey[1], 0.16 / own[1]
    view.exposure = log2((by_grey * by_own) ** 0.5) + spec.get("exposureEv", 0.0)


def render(spec, camera):
    """Path-traced picture at spec['out'] + '.png'."""
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.cycles.device = "CPU"
    scene.cycles.use_denoising, scene.cycles.use_auto_tile = False, False
    scene.cycles.max_bounces = 3
    scene.cycles.diffuse_bounces, scene.cycles.glossy_bounces = 1, 1
    scene.cycles.transmission_bounces, scene.cycles.transparent_max_bounces = 2, 2
    scene.cycles.sample_clamp_indirect = 4
    scene.cycles.caustics_reflective = scene.cycles.caustics_refractive = False
    scene.cycles.seed = spec["seed"]
    scene.cycles.pixel_filter_type, scene.cycles.filter_width = "BLACKMAN_HARRIS", 1.6
    scene.render.threads_mode, scene.render.threads = "FIXED", spec["threads"]
    scene.render.use_persistent_data = True
    set_camera(camera)
    expose(spec)
    view = scene.view_settings
    view.view_transform = "Filmic"
    view.look = spec.get("look", "Medium Contrast")
    scene.render.resolution_percentage = 100
    scene.cycles.samples = spec["samples"]
    scene.cycles.use_adaptive_sampling = True
    scene.cycles.adaptive_threshold = 0.03
    scene.render.image_settings.file_format = "PNG"
    scene.render.image_settings.color_mode, scene.render.image_settings.color_depth = "RGB", "8"
    scene.render.filepath = spec["out"] + ".png"
    bpy.ops.render.render(write_still=True)
