// Each kind of cabinet as one looks at it: own line drawings, 64 by 64.
const pictures: Record<string, string> = {
  reach_in_cooler: 'M16 5h32v50H16zM16 46h32M43 20v12M20 55v4M44 55v4M21 50h12',
  reach_in_freezer: 'M16 5h32v50H16zM16 46h32M43 20v12M20 55v4M44 55v4M29 15v14M23 18l12 8M35 18l-12 8',
  glass_door_merchandiser:
    'M14 4h36v52H14zM14 12h36M18 15h28v32H18zM18 25h28M18 36h28M22 21v4M30 21v4M26 32v4M38 32v4M14 50h36',
  undercounter_cooler: 'M6 16h52v5H6zM9 21h46v32H9zM32 21v32M28 32v8M36 32v8M13 53v4M51 53v4',
  undercounter_freezer:
    'M6 16h52v5H6zM9 21h46v32H9zM9 45h46M40 30v8M21 27v12M16 30l10 6M26 30l-10 6M13 53v4M51 53v4',
  prep_table:
    'M5 25h54v5H5zM9 30h46v23H9zM32 30v23M28 37v7M36 37v7M8 25l6-12h36l6 12M22 25v-6h8v6M34 25v-6h8v6',
  bottle_cooler: 'M6 14h52v40H6zM6 22h52M32 22v32M14 47V37l2-4v-5h4v5l2 4v10zM42 47V37l2-4v-5h4v5l2 4v10z',
  ice_cream_display:
    'M6 56V36h52v20zM6 36l8-20h38l6 20M14 16h38M14 31h10v5M27 31h10v5M40 31h10v5M24 31v5M37 31v5M50 31v5',
  still_air_refrigerator:
    'M12 5h24v52H12zM12 24h24M32 12v8M32 29v10M42 12h12v40H42zM42 20h12M42 28h12M42 36h12M42 44h12M48 12v40',
  older_reach_in_cooler: 'M16 14h32v44H16zM18 14V5h28v9M22 9h20M20 20h24v32H20zM40 32v10h-5',
};

export function CabinetPicture({ cabinet }: { cabinet: string }) {
  return (
    <svg class="cabinet-picture" viewBox="0 0 64 64" aria-hidden="true">
      <path d={pictures[cabinet] ?? 'M14 5h36v52H14z'} />
    </svg>
  );
}
