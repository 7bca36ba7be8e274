export function Page() {
  return <main>Plateglass</main>;
}
