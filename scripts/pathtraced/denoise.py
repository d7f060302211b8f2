"""A phone's noise filter on a path-traced picture: python3 denoise.py FROM.png TO.png (needs OpenCV for Python)."""
import sys
import cv2

picture = cv2.imread(sys.argv[1])
cv2.imwrite(sys.argv[2], cv2.fastNlMeansDenoisingColored(picture, None, 3.5, 7, 3, 11))
