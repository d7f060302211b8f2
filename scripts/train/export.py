"""Writes the ONNX file. `python3 export.py checkpoint.pt plants.onnx` exports a saved checkpoint."""
import inspect
import sys

import numpy as np
import onnx
import torch
from onnx import TensorProto, helper, numpy_helper

from network import FINER, IN_CHANNELS, PlantNet, Shipped, steps_of


def export(net, path):
    """
    Opset 13, one input [1,6,h,w] and one output [1,11,h/4,w/4]; h and w are free multiples of 64. Weights are stored as they
    have been rounded: whole steps in 8 bits with the step of each output channel, the small ones in half precision. The file
    brings them to single precision when it is opened, and everything is worked out in that.
    """
    model = Shipped(net.to(memory_format=torch.contiguous_format)).eval()
    x = torch.zeros(1, IN_CHANNELS, 256 * FINER, 512 * FINER)
    options = {"dynamo": False} if "dynamo" in inspect.signature(torch.onnx.export).parameters else {}
    torch.onnx.export(
        model, x, path, opset_version=13, input_names=["strip"], output_names=["maps"],
        dynamic_axes={"strip": {2: "height", 3: "width"}, "maps": {2: "cells_down", 3: "cells_along"}}, **options,
    )
    onnx.save(packed(onnx.load(path)), path)
    print("exported", path)


def packed(model):
    """The same graph with its float weights stored small, each brought back by a cast and, where it has steps, a product."""
    opening, stored = [], []
    for weight in model.graph.initializer:
        values = numpy_helper.to_array(weight)
        if values.dtype != np.float32 or values.ndim == 0:
            stored.append(weight)
            continue
        name = weight.name
        step = steps_of(torch.from_numpy(values.copy()))
        if step is None:
            stored.append(numpy_helper.from_array(values.astype(np.float16), name + ".half"))
            opening.append(helper.make_node("Cast", [name + ".half"], [name], to=TensorProto.FLOAT))
            continue
        whole = np.rint(values / step.numpy())
        stored.append(numpy_helper.from_array(whole.astype(np.int8), name + ".whole"))
        stored.append(numpy_helper.from_array(step.numpy(), name + ".step"))
        opening.append(helper.make_node("Cast", [name + ".whole"], [name + ".float"], to=TensorProto.FLOAT))
        opening.append(helper.make_node("Mul", [name + ".float", name + ".step"], [name]))
    nodes = opening + list(model.graph.node)
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
