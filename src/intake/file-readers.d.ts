/** The little that is used, declared by hand: the published types bring the DOM and Node's globals into pure rooms. */
declare module 'shapefile' {
  export interface ShapefileFeatures {
    readonly type: 'FeatureCollection';
    readonly features: readonly unknown[];
  }
  export function read(
    shp: Uint8Array,
    dbf: Uint8Array | undefined,
    options: { readonly encoding: string },
  ): Promise<ShapefileFeatures>;
}

declare module '@xmldom/xmldom' {
  export interface XmlDocument {
    readonly documentElement: { readonly localName: string | null } | null;
  }
  export const DOMParser: new (options: {
    readonly onError: (level: 'warning' | 'error' | 'fatalError', message: string) => void;
  }) => { parseFromString(text: string, type: 'text/xml'): XmlDocument };
}

declare module '@tmcw/togeojson' {
  import type { XmlDocument } from '@xmldom/xmldom';
  export function kml(document: XmlDocument): {
    readonly type: string;
    readonly features: readonly unknown[];
  };
}

declare module 'read-excel-file/universal' {
  export type SheetCell = string | number | boolean | Date | null;
  export interface WorkbookSheet {
    readonly sheet: string;
    readonly data: readonly (readonly SheetCell[])[];
  }
  export default function readWorkbook(bytes: ArrayBuffer): Promise<readonly WorkbookSheet[]>;
}

declare module 'isoxml' {
  export interface LoggedValue {
    readonly attributes: {
      /** Four hexadecimal digits. */
      readonly ProcessDataDDI: string;
      readonly DeviceElementIdRef: { readonly xmlId: string } | null;
    };
  }
  export interface LoggedRecord {
    readonly time: Date;
    readonly isValidPosition: boolean;
    readonly position?: {
      readonly PositionNorth: number;
      readonly PositionEast: number;
      readonly PositionStatus?: string;
    };
    /** By `${DDI}_${device element}`. */
    readonly values: Readonly<Record<string, number>>;
  }
  export interface TaskLog {
    readonly attributes: { readonly Filename: string };
    binaryData: Uint8Array | null;
    readonly timeLogHeader?: { readonly attributes: { readonly DataLogValue?: readonly LoggedValue[] } };
    readonly parsingErrors: readonly string[];
    parseBinaryFile(): { readonly timeLogs: readonly LoggedRecord[] };
  }
  export const ISOXMLManager: new () => {
    parseISOXMLFile(bytes: Uint8Array, type: 'application/zip'): Promise<void>;
    readonly rootElement: {
      readonly attributes: {
        readonly Task?: readonly { readonly attributes: { readonly TimeLog?: readonly TaskLog[] } }[];
      };
    };
  };
}
