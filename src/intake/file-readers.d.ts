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
  export interface KmlFolder {
    readonly type: 'folder' | 'root';
    readonly meta?: Readonly<Record<string, unknown>>;
    readonly children: readonly (KmlFolder | { readonly type: 'Feature' })[];
  }
  export function kmlWithFolders(document: XmlDocument): KmlFolder;
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
  export interface Reference<T> {
    readonly xmlId: string;
    readonly entity?: { readonly attributes: T };
  }
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
      /** Of the receiver: milliseconds of the day, and days since 1980. */
      readonly GpsUtcTime?: number;
      readonly GpsUtcDate?: number;
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
  export interface NamedProduct {
    readonly ProductDesignator?: string;
  }
  export interface ProductAllocation {
    readonly attributes: {
      readonly ProductIdRef?: Reference<NamedProduct>;
      readonly DeviceElementIdRef?: Reference<unknown>;
      /** '1': filling. */
      readonly TransferMode?: string;
      /** Times without a zone are read as those of this machine's zone. */
      readonly AllocationStamp?: readonly {
        readonly attributes: { readonly Start?: Date; readonly Stop?: Date; readonly Type?: string };
      }[];
    };
  }
  export interface TreatmentZone {
    readonly attributes: {
      readonly ProcessDataVariable?: readonly {
        readonly attributes: { readonly ProductIdRef?: Reference<NamedProduct> };
      }[];
    };
  }
  export interface Task {
    readonly attributes: {
      readonly TaskDesignator?: string;
      readonly TimeLog?: readonly TaskLog[];
      /** Which element (a connector) of one device is coupled to which of another. */
      readonly Connection?: readonly {
        readonly attributes: {
          readonly DeviceElementIdRef_0?: Reference<unknown>;
          readonly DeviceElementIdRef_1?: Reference<unknown>;
        };
      }[];
      readonly ProductAllocation?: readonly ProductAllocation[];
      readonly TreatmentZone?: readonly TreatmentZone[];
    };
  }
  export interface DeviceElement {
    readonly attributes: {
      readonly DeviceElementObjectId?: number;
      /** '1' device, '2' function, '3' bin, '4' section, '5' unit, '6' connector, '7' navigation. */
      readonly DeviceElementType?: string;
      readonly ParentObjectId?: number;
      readonly DeviceObjectReference?: readonly {
        readonly attributes: { readonly DeviceObjectId?: number };
      }[];
    };
  }
  export interface DeviceProperty {
    readonly attributes: {
      readonly DevicePropertyObjectId?: number;
      readonly DevicePropertyDDI?: string;
      readonly DevicePropertyValue?: number;
    };
  }
  export interface Device {
    readonly attributes: {
      readonly DeviceElement?: readonly DeviceElement[];
      readonly DeviceProperty?: readonly DeviceProperty[];
    };
  }
  export class ISOXMLManager {
    parseISOXMLFile(bytes: Uint8Array, type: 'application/zip'): Promise<void>;
    getReferenceByEntity(entity: DeviceElement): Reference<unknown> | undefined;
    getParsedFile(name: string, isBinary: false): Promise<string | null> | null;
    readonly rootElement: {
      readonly attributes: {
        readonly Task?: readonly Task[];
        readonly Device?: readonly Device[];
      };
    };
  }
}
