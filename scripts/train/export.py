"""Writes the ONNX file. `python3 export.py checkpoint.pt plants.onnx` exports a saved checkpoint."""
import inspect
import sys

import numpy as np
import onnx
import torch
from onnx import TensorProto, helper, numpy_helper

from network import IN_CHANNELS, PlantNet, Shipped


def export(net, path):
    """
    Opset 13, one input [1,6,h,w] and one output [1,11,h/2,w/2]; h and w are free multiples of 32. Weights are stored in half
    precision (which they have been rounded to), and cast when the file is opened: everything is worked out in single precision.
    """
    model = Shipped(net.to(memory_format=torch.contiguous_format)).eval()
    x = torch.zeros(1, IN_CHANNELS, 256, 512)
    options = {"dynamo": False} if "dynamo" in inspect.signature(torch.onnx.export).parameters else {}
    torch.onnx.export(
        model, x, path, opset_version=13, input_names=["strip"], output_names=["maps"],
        dynamic_axes={"strip": {2: "height", 3: "width"}, "maps": {2: "cells_down", 3: "cells_along"}}, **options,
    )
    onnx.save(halved(onnx.load(path)), path)
    print("exported", path)


def halved(model):
    """The same graph with its float weights stored in half precision, each followed by a cast."""
    casts, stored = [], []
    for weight in model.graph.initializer:
        values = numpy_helper.to_array(weight)
        if values.dtype != np.float32 or values.ndim == 0:
            stored.append(weight)
            continue
        stored.append(numpy_helper.from_array(values.astype(np.float16), weight.name + ".half"))
        casts.append(helper.make_node("Cast", [weight.name + ".half"], [weight.name], to=TensorProto.FLOAT))
    nodes = casts + list(model.graph.node)
    del model.graph.initializer[:], model.graph.node[:]
    model.graph.initializer.extend(stored)
    model.graph.node.extend(nodes)
    onnx.checker.check_model(model)
    return model


if __name__ == "__main__":
    saved = torch.load(sys.argv[1], map_location="cpu")
    net = PlantNet()
    net.load_state_dict(saved["average"])
    export(net, sys.argv[2])
