/** What a scene is to show. Everything is in metres and degrees; the ground frame is described in README.md. */

export type View = 'down' | 'side' | 'along';
export type Stage = 'hook' | 'cotyledon' | 'unifoliate' | 'trifoliate1' | 'trifoliate2';
export type SoilTone = 'dark-wet' | 'brown' | 'red-brown' | 'grey' | 'pale-dry';
export type SoilSurface = 'crumb' | 'crust' | 'cracked' | 'cloddy';

export type CameraSpec = {
  readonly view: View;
  /** Focal length as if on 35 mm film, by the diagonal (CIPA DCG-001). */
  readonly focal35: number;
  readonly heightM: number;
  /** Ground point that the middle of the picture looks at. */
  readonly aimAlongM: number;
  readonly aimAcrossM: number;
  /** Where the camera stands. */
  readonly standAlongM: number;
  readonly standAcrossM: number;
  readonly rollDeg: number;
  /** 1: the person stands to the right of the reference and readings rise to the right of the picture; -1: mirrored. */
  readonly faces: 1 | -1;
};

export type LightSpec = {
  readonly sky: 'sun' | 'overcast' | 'hazy';
  readonly sunElevationDeg: number;
  /** Direction the light comes from, in the ground frame: 0 along the reference, 90 to its left. */
  readonly sunAzimuthDeg: number;
  readonly photographerShadow: boolean;
  /** Stops above the automatic exposure. */
  readonly exposureStops: number;
};

export type SoilSpec = {
  readonly tone: SoilTone;
  readonly surface: SoilSurface;
  /** 1 is a usual seedbed; 2 is rough. */
  readonly relief: number;
  /** Pieces of straw per square metre. */
  readonly residuePerM2: number;
  readonly stonesPerM2: number;
  readonly furrowDepthM: number;
  readonly wheelTrack: boolean;
};

export type CropSpec = {
  readonly stages: ReadonlyArray<readonly [Stage, number]>;
  readonly rowWidthM: number;
  readonly seedSpacingM: number;
  /** Share of seeds that gave no plant. */
  readonly missShare: number;
  /** Share of drops with two seeds closer than 2 cm. */
  readonly doubleShare: number;
  readonly spacingSdM: number;
  readonly lateralSdM: number;
  /** Bare runs forced into the row. */
  readonly bare: ReadonlyArray<readonly [number, number]>;
  /** 0 none, 1 heavily torn leaves. */
  readonly tatter: number;
  readonly leafSize: number;
  /** How yellow the leaves are, 0..1. */
  readonly yellowing: number;
  readonly dust: number;
};

export type WeedSpec = { readonly offRowPerM2: number; readonly onRowPerM: number; readonly grassShare: number };

export type TapeUnit = 'in' | 'cm';
export type TapeSpec = {
  readonly kind: 'tape';
  readonly unit: TapeUnit;
  readonly ground: 'yellow' | 'white' | 'wood';
  readonly widthM: number;
  readonly fromM: number;
  readonly toM: number;
  readonly hook: boolean;
  readonly case: boolean;
  /** How the count asks for it: by graduation, or by whole length such as '10ft'. */
  readonly ask: 'graduation' | string;
  readonly coverShare: number;
};
export type RodSpec = {
  readonly kind: 'rod';
  readonly lengthM: number;
  readonly radiusM: number;
  readonly paint: 'white' | 'orange' | 'aluminium' | 'wood' | 'red-white' | 'black-white';
  readonly bandM: number | null;
  readonly ask: string;
};
export type FrameSpec = {
  readonly kind: 'frame';
  readonly insideAlongM: number;
  readonly insideAcrossM: number;
  readonly tubeM: number;
  readonly paint: 'white' | 'aluminium' | 'orange';
  readonly ask: string;
};
export type CardsSpec = { readonly kind: 'cards'; readonly apartM: number; readonly paper: 'A4' | 'Letter' };
export type NoneSpec = { readonly kind: 'none' };
export type ReferenceSpec = TapeSpec | RodSpec | FrameSpec | CardsSpec | NoneSpec;

export type SceneSpec = {
  readonly name: string;
  readonly seed: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly camera: CameraSpec;
  readonly light: LightSpec;
  readonly soil: SoilSpec;
  readonly crop: CropSpec;
  readonly weeds: WeedSpec;
  readonly reference: ReferenceSpec;
  /** Things laid there that are no reference, or a second one. */
  readonly extras: ReadonlyArray<'hose' | 'second-tape'>;
  /** Where the row runs, to the left of the reference; the row may turn against it. */
  readonly rowAcrossM: number;
  readonly rowTurnDeg: number;
  readonly stretch: { readonly fromM: number; readonly toM: number };
  readonly stretchAsked: string | null;
  readonly orientation: 1 | 3 | 6 | 8;
  readonly takenAt: string;
  readonly hard: boolean;
  readonly holdOut: boolean;
  readonly askCameraHeight: boolean;
  readonly askGravity: boolean;
};
