"""A phone's noise filter on a path-traced picture: python3 denoise.py FROM.png TO.png [STRENGTH] (needs OpenCV for Python)."""
import sys
import cv2

picture, strength = cv2.imread(sys.argv[1]), float(sys.argv[3] if len(sys.argv) > 3 else 5)
cv2.imwrite(sys.argv[2], cv2.fastNlMeansDenoisingColored(picture, None, strength, 1.6 * strength, 3, 11))
