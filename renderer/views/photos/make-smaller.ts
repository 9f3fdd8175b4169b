/** A chosen file made into what is saved: smaller, upright, and without what a phone writes into a photo (place, time, owner of the phone). */
import { CHOSEN_PHOTO, photoHead, SAVED_PHOTO, savedSize } from '../../../shared/geometry/photo.ts';

export type Smaller = File | 'foreign' | 'too-big';

/** Told apart by its bytes before anything is unpacked: a few bytes can claim a picture that fills the memory. */
export async function makeSmaller(chosen: File): Promise<Smaller> {
  if (chosen.size > CHOSEN_PHOTO.mostBytes) return 'too-big';
  const head = photoHead(new Uint8Array(await chosen.arrayBuffer()));
  if (head === undefined) return 'foreign';
  if (head.width * head.height > CHOSEN_PHOTO.mostPixels) return 'too-big';
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(chosen, { imageOrientation: 'from-image' });
  } catch {
    return 'foreign';
  }
  // as it is looked at: one that was held upright has its sides the other way round in the file
  const { width, height } = savedSize(picture);
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const pen = canvas.getContext('2d');
  if (pen !== null) {
    // what is clear in a PNG is paper
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, width, height);
    pen.imageSmoothingQuality = 'high';
    pen.drawImage(picture, 0, 0, width, height);
  }
  picture.close();
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', SAVED_PHOTO.quality));
  return blob === null || pen === null ? 'foreign' : new File([blob], chosen.name, { type: 'image/jpeg' });
}
