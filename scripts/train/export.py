"""Writes the ONNX file. `python3 export.py checkpoint.pt plants.onnx` exports a saved checkpoint."""
import inspect
import sys

import torch

from network import IN_CHANNELS, PlantNet, Shipped


def export(net, path):
    """Opset 13, one input [1,6,h,w] and one output [1,11,h/2,w/2]; h and w are free multiples of 32."""
    model = Shipped(net.cpu().float().to(memory_format=torch.contiguous_format)).eval()
    x = torch.zeros(1, IN_CHANNELS, 256, 512)
    options = {"dynamo": False} if "dynamo" in inspect.signature(torch.onnx.export).parameters else {}
    torch.onnx.export(
        model, x, path, opset_version=13, input_names=["strip"], output_names=["maps"],
        dynamic_axes={"strip": {2: "height", 3: "width"}, "maps": {2: "cells_down", 3: "cells_along"}}, **options,
    )
    print("exported", path)


if __name__ == "__main__":
    saved = torch.load(sys.argv[1], map_location="cpu")
    net = PlantNet()
    net.load_state_dict(saved["average"])
    export(net, sys.argv[2])
